"""Making the sheet: the routine of a family's linkage filled in for one engine."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from kb.book.lookup.twins import told_apart_words, twin_lines
from kb.book.lookup.which_family import require_family
from kb.book.model.answer import ORDER_OF_TRUST
from kb.book.model.catalogue import MAXIMUM, in_job_order
from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.book.model.family import as_list
from kb.book.setting.job import job
from kb.book.setting.pointer import require_near_centre
from kb.book.setting.window import SettingRule
from kb.errors import LookUpError, Refusal
from kb.publish.drawings.aimed import maximum_aimed, target_in_words
from kb.publish.drawings.rim import rim_drawing
from kb.publish.drawings.rim_view import RimView, rim_view
from kb.publish.drawings.running import running_chart
from kb.publish.sheet.address import EXAMPLE_SITE, family_address
from kb.publish.sheet.cited import SourceList
from kb.publish.sheet.given import SheetJob, all_given, without_family
from kb.publish.sheet.record import Hazard, Sheet
from kb.publish.sheet.steps import steps_of
from kb.publish.sheet.wording import dead_centre_words
from kb.quantity import angle_in_words, read_value
from kb.vocabulary.catalogue import HazardTier
from kb.vocabulary.engine import Layout
from kb.vocabulary.states import State

if TYPE_CHECKING:
    from kb.book.book import Book
    from kb.book.model.family import Family

PULLS = ("1", "2", "3", "4", "5")
"""The repeated pulls that the table of readings has columns for."""


def make_sheet(book: Book, family: str, engine: EngineOnTheStand = ANY_ENGINE, *, site: str = EXAMPLE_SITE) -> Sheet:
    """The bench sheet of one engine, by its family's id or name; ``site`` is where the book is published.

    The engine's ``state`` is the one to set in where the book has it, else cranking, then static, then running.

    Raises:
        FamilyNotFound, FamilyRetired, SeveralFamilies, SerialFitsNone, YearFitsNone: each says what to type.
        RoutineNotFound: there is no order of work for the family.
        DeadCentreTooFar: the pointer is out by more than 3 degrees: there is no sheet for that.
        MarginTooWide: the margin is more than a maximum takes.
        QuantityError: ``site`` is not a web address.
    """
    require_near_centre(engine.pointer)
    SettingRule.read(book.figures[MAXIMUM].document).require_margin(engine.margin)
    found = require_family(book, family, engine)
    filled = SheetJob(book, found, engine, SourceList(), _rim(book, found.id, engine))
    work = job(book, found.id)
    cylinders = int(found.part("engine", "cylinders") or 1)
    steps = steps_of(filled, work, cylinders)
    targets = tuple(target for step in steps for target in step.targets)
    named = {figure for step in work.steps for figure in step.figures}
    order = [kind.id for kind in in_job_order(book.figures[figure] for figure in found.statements)]
    rest = tuple(one for figure in order if figure not in named for one in all_given(filled, figure))
    drawings, missing = _drawings(filled)
    twins = tuple(twin_lines(book, found))
    return Sheet(
        found.id,
        found.name,
        book.makers[found.maker].name if found.maker in book.makers else found.maker,
        told_apart_words(found) if twins else "",
        twins,
        tuple(as_list(found.part("also_called"))),
        _line(found.part("look_for") or ""),
        tuple(f"{fit} ({fit.note})" if fit.note else str(fit) for fit in found.fits),
        tuple(_engine(found)),
        cylinders,
        engine.serial or "",
        "" if engine.year is None else str(engine.year),
        "" if engine.dead_centre is None else angle_in_words(engine.dead_centre),
        dead_centre_words(engine.dead_centre),
        work.name,
        work.about,
        book.date,
        book.invented or found.invented,
        ORDER_OF_TRUST,
        tuple(_hazards(filled, order)),
        targets,
        steps,
        PULLS,
        rest,
        filled.sources.listed(),
        family_address(site, found.id),
        drawings,
        missing,
    )


def _rim(book: Book, family: str, engine: EngineOnTheStand) -> RimView | None:
    """The rim, for strips with a target each; the drawing says why there is none."""
    try:
        return rim_view(book, family, engine)
    except (LookUpError, Refusal):
        return None


def _hazards(job: SheetJob, figures: Sequence[str]) -> Iterator[Hazard]:
    """The figures whose wrong value is dangerous, with how sure each is, in the order of the job."""
    for figure in figures:
        if job.book.figures[figure].hazard == HazardTier.A:
            for one in all_given(job, figure):
                yield Hazard(one.label, one.when, one.sure or one.refused)


def _engine(family: Family) -> Iterator[str]:
    """The engine in a few words, as far as its file says."""
    cylinders, layout = family.part("engine", "cylinders"), family.part("engine", "layout")
    if cylinders:
        shape = {Layout.IN_LINE: "in line", Layout.V: "in a V"}.get(layout, "")
        yield f"{cylinders} cylinder{'' if cylinders == '1' else 's'} {shape}".rstrip()
    if power := family.part("engine", "power"):
        yield str(read_value(power))
    if order := family.part("engine", "firing_order"):
        yield f"fires {'-'.join(order)}"
    if kind := family.part("ignition", "type"):
        yield f"{kind.replace('-', ' ')} ignition"
    modules = [name.replace("-", " ") for name in as_list(family.part("ignition", "modules"))]
    if modules:
        yield f"module{'' if len(modules) == 1 else 's'}: {', '.join(modules)}"
    if turning := family.part("flywheel", "rotation"):
        yield f"turns {turning} seen from above"


def _drawings(job: SheetJob) -> tuple[tuple[tuple[str, str], ...], tuple[str, ...]]:
    """The drawings with their headings (the rim, and the chart where there is a correction); and why one is missing."""
    book, family, engine = job.book, job.family.id, job.engine.asked(job.states[0])
    maximum = maximum_aimed(book, family, engine)
    target = maximum.show.low if maximum else None
    words = target_in_words(maximum) if maximum else ""
    cranking = target if maximum and maximum.answer.state == State.CRANKING else None
    drawn, missing = [], []
    try:
        rim = rim_drawing(book, family, engine, target=target, target_words=words)
        drawn.append(("The flywheel rim, seen from above", rim))
    except (LookUpError, Refusal) as error:
        missing.append(f"No drawing of the rim: {without_family(str(error), family)}.")
    try:
        chart = running_chart(book, family, engine, target=cranking)
        drawn.append(("Cranking against running", chart))
    except (LookUpError, Refusal) as error:
        missing.append(f"No chart of cranking against running: {without_family(str(error), family)}.")
    return tuple(drawn), tuple(missing)


def _line(words: str) -> str:
    return " ".join(words.split())
