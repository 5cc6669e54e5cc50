"""One leaf of a sheet, two pages: which engine and what to set, then the order of work as lines to tick.

What is too long for its place is cut and ends in "…"; a figure, its source, a danger or a line of a gate never is.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from kb.book.model.answer import WORKED_OUT
from kb.frozen import record
from kb.publish.sheet.record import Blank, Sheet, SheetCaution, SheetFigure, SheetStep, SheetTarget
from kb.publish.sheet.wording import CENTRE_OPEN_IN_SHORT, NONE_KEPT
from kb.vocabulary.work import CautionSeverity

CUT = "…"
"""The end of words that were cut."""

NAME, SENTENCE, WHOLE, LIST = 56, 112, 240, 250
"""The most letters of a name, of a step, of a step where there is room, and of what tells engines apart."""

LABEL, PAGE = 34, 10
"""The most letters of a figure's name and of a page: more than any that is no slip."""

SHORT_SENTENCE = 30
"""A step that begins with fewer letters than this, such as "Key off.", is told by its second sentence too."""

AS_FOUND = "as found"
FOUND, SLACK, TIGHT = "found", "slack", "tight"
READINGS = "found: as found; slack and tight: as left, before and after the nut is tight. Only tight counts."
"""The readings of a figure that is set by the light, and the words that say what each is."""


def clipped(words: str, most: int) -> str:
    """Words of at most so many letters, cut between two parts of it or two words, where there is a place for it.

    >>> clipped("Ketch 47 of the second series", 16)
    'Ketch 47 of the…'
    """
    line = " ".join(words.split())
    if len(line) <= most:
        return line
    ends = [line.rfind(end, 0, most) for end in (", ", "; ", " ")]
    end = next((at for at in ends if at > most // 2), most - 1)
    return line[:end].rstrip(" ,;:.") + CUT


def in_short(do: str, most: int = SENTENCE) -> str:
    """What a step says to do in its first sentence, or in two where the first alone says little.

    >>> in_short("Key off. Take every plug out. Look at each.")
    'Key off. Take every plug out.'
    """
    first, *more = re.split(r"(?<=[.!?])\s+", " ".join(do.split()))
    return clipped(f"{first} {more[0]}" if more and len(first) < SHORT_SENTENCE else first, most)


@record()
class LeafTarget:
    """A figure that is set by the light, with the ``steps`` that read it and a box for each reading.

    ``rule`` is how to correct for the pointer; ``named`` are the margin that is kept, its place on the rim, its depth
    and what it is running, each under its name.
    """

    label: str
    target: SheetTarget
    where: str
    steps: tuple[int, ...]
    blanks: tuple[Blank, ...]
    rule: str
    named: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]


@record()
class LeafFigure:
    """Any other figure, with its step (0 for none) and its boxes."""

    label: str
    given: SheetFigure
    where: str
    step: int
    blanks: tuple[Blank, ...]
    notes: tuple[str, ...]


@record()
class LeafStep:
    """A step as a line to tick: its cautions by title, its gate, the boxes that the first page does not have.

    ``words`` are cut to a line or two, ``whole`` are for where there is room. ``missing`` says that no source publishes
    its figure, ``on_first`` that its figure stands on the first page.
    """

    number: int
    words: str
    whole: str
    cautions: tuple[SheetCaution, ...]
    gate: tuple[str, ...]
    blanks: tuple[Blank, ...]
    missing: bool
    on_first: bool
    stale: tuple[int, ...]


@record()
class Leaf:
    """What stands on the leaf beside what its sheet says; ``cut`` says whether anything was cut."""

    name: str
    told_apart: str
    twins: tuple[str, ...]
    engine: str
    known: str
    job: str
    centre: str
    dangers: tuple[SheetCaution, ...]
    targets: tuple[LeafTarget, ...]
    figures: tuple[LeafFigure, ...]
    steps: tuple[LeafStep, ...]
    cut: bool


def leaf_of(sheet: Sheet) -> Leaf:
    """The leaf of a sheet."""
    called = clipped(", ".join(sheet.also_called), NAME)
    known = [sheet.look_for or "the book does not say how to recognise it", *sheet.fits]
    told = [clipped(one, LIST) for one in sheet.twins[:2]]
    name, engine = clipped(sheet.full_name, NAME), clipped(" · ".join(sheet.engine), LIST)
    job, apart = clipped(sheet.routine, NAME), clipped(sheet.told_apart, LIST)
    if left_out := len(sheet.twins) - len(told):
        told.append(f"and {left_out} more of that name{CUT}")
    known_words = "" if told else clipped("; ".join(known), LIST)
    if called:
        known_words = f"{known_words}{'. ' if known_words else ''}Also called {called}"
    steps = tuple(_line(step) for step in sheet.steps)
    words = (name, engine, job, apart, known_words, *told)
    return Leaf(
        name,
        apart,
        tuple(told),
        engine,
        known_words,
        job,
        sheet.dead_centre_rule if sheet.dead_centre else CENTRE_OPEN_IN_SHORT,
        tuple(_dangers(sheet)),
        tuple(_targets(sheet)),
        tuple(_figures(sheet)),
        steps,
        any(CUT in one for one in words),
    )


def _dangers(sheet: Sheet) -> Iterator[SheetCaution]:
    """The dangers of the job, each once."""
    for step in sheet.steps:
        yield from (one for one in step.cautions if one.severity == CautionSeverity.DANGER and not one.told_at)


def _targets(sheet: Sheet) -> Iterator[LeafTarget]:
    """The targets in the order of work; what is read twice by one figure, as with the cable back, stands once."""
    together: dict[tuple[SheetFigure, str], list[tuple[SheetStep, SheetTarget]]] = {}
    for step in sheet.steps:
        for target in step.targets:
            together.setdefault((target.given, target.set_to), []).append((step, target))
    for same in together.values():
        first = same[0][1]
        blanks = [
            one for step, target in same for one in _readings(step, _own(step, target.given), with_number=len(same) > 1)
        ]
        notes = tuple(one for one in (*first.given.remarks, *first.remarks) if one != WORKED_OUT)
        rule = first.rule.replace("Pointer reads", "Pointer")
        margin = "" if first.margin.startswith(NONE_KEPT) else first.margin
        named = {"margin": margin, "on the rim": first.rim, "depth": first.piston, "when running": first.running}
        told = tuple((name, words) for name, words in named.items() if words)
        label, where = clipped(first.given.label, LABEL), _where(first.given)
        yield LeafTarget(label, first, where, tuple(step.number for step, _ in same), tuple(blanks), rule, told, notes)


def _own(step: SheetStep, given: SheetFigure) -> list[Blank]:
    """The boxes of one of a step's figures, told by its name where the step has several, and by its condition."""
    timed = any(one.given == given for one in step.targets)
    boxes = [one for one in step.blanks if one.sided == timed]
    named = [one for one in boxes if one.of == given.label or one.of.startswith(f"{given.label}, ")]
    if named:
        boxes = [
            Blank(one.label, one.of.removeprefix(given.label).removeprefix(", "), one.unit, one.sided) for one in named
        ]
    rows = [one.given for one in step.targets] if timed else step.given
    rows = [one for one in rows if one.figure == given.figure]
    printed = [one for one in rows if one.printed]
    if len(printed) < 2:
        return boxes if given == (printed or rows)[0] else []
    conditions = {part for part in given.when.split(", ") if part}
    return [one for one in boxes if set(one.of.split(", ")) & conditions]


def _readings(step: SheetStep, blanks: Iterable[Blank], *, with_number: bool) -> Iterator[Blank]:
    """A box for each reading of a step: as found; and as left, with the nut slack and then tight."""
    before = f"{step.number} " if with_number else ""
    rows = list(blanks)
    both = any(one.label == AS_FOUND for one in rows)
    for one in rows:
        labels = (FOUND,) if one.label == AS_FOUND else (SLACK, TIGHT) if both else (TIGHT,)
        yield from (Blank(f"{before}{label}", one.of, one.unit, one.sided) for label in labels)


def _figures(sheet: Sheet) -> Iterator[LeafFigure]:
    """The figures that no light reads, those of the steps first; one that nobody publishes stands at its step."""
    for step in sheet.steps:
        for one in step.given:
            if not _is_missing(one):
                yield _figure(one, step.number, _plainly(_own(step, one)))
    for one in sheet.rest:
        yield _figure(one, 0, ())


def _figure(given: SheetFigure, step: int, blanks: tuple[Blank, ...]) -> LeafFigure:
    return LeafFigure(clipped(given.label, LABEL), given, _where(given), step, blanks, given.remarks)


def _where(given: SheetFigure) -> str:
    """The numbers of a figure's sources with their pages."""
    short = [one.short.replace(one.page, clipped(one.page, PAGE)) if one.page else one.short for one in given.cited]
    return ", ".join(dict.fromkeys(short))


def _is_missing(one: SheetFigure) -> bool:
    """Whether there is nothing at all to show, not even what a source has instead."""
    return bool(one.refused) and not one.candidates


def _plainly(blanks: Iterable[Blank]) -> tuple[Blank, ...]:
    """The boxes with short labels, which name the cylinder where each has its own."""
    rows = list(blanks)
    apart = len({one.of for one in rows}) > 1
    labels = [one.label.removeprefix("as ") for one in rows]
    cylinders = [one.of.replace("cylinder", "cyl.") if apart else "" for one in rows]
    same = len(set(labels)) == 1
    named = [(of if of and same else f"{label} {of}".strip()) for label, of in zip(labels, cylinders, strict=True)]
    return tuple(Blank(name, "", one.unit, one.sided) for name, one in zip(named, rows, strict=True))


def _line(step: SheetStep) -> LeafStep:
    missing = [one for one in step.given if _is_missing(one)]
    on_first = bool(step.targets) or len(missing) < len(step.given)
    blanks = [blank for one in missing for blank in _named(one, step)]
    if not step.given and not step.targets and any(one.label == AS_FOUND for one in step.blanks):
        blanks = list(_plainly(step.blanks))
    return LeafStep(
        step.number,
        in_short(step.do, WHOLE if step.gate else SENTENCE),
        in_short(step.do, WHOLE),
        tuple(one for one in step.cautions if not one.told_at),
        step.gate,
        tuple(_with_units(blanks)),
        bool(missing),
        on_first,
        step.stale,
    )


def _named(missing: SheetFigure, step: SheetStep) -> Iterator[Blank]:
    """The boxes of a figure that nobody publishes, with its name where the step has others."""
    several = len({one.figure for one in step.given} | {one.given.figure for one in step.targets}) > 1
    name = f"{missing.label.lower()} " if several else ""
    for place, one in enumerate(_plainly(_own(step, missing))):
        yield Blank(f"{'' if place else name}{one.label}", one.of, one.unit, one.sided)


def _with_units(blanks: list[Blank]) -> Iterator[Blank]:
    """Boxes of which only the last of those in one unit has it."""
    for place, one in enumerate(blanks):
        last = place + 1 == len(blanks) or blanks[place + 1].unit != one.unit
        yield Blank(one.label, one.of, one.unit if last else "", one.sided)
