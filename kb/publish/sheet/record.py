"""What a bench sheet holds: plain values, every number in words with its unit and side. Output forms read only this."""

from __future__ import annotations

from typing import Any

from kb.frozen import record


@record()
class Citing:
    """A citation: ``number`` is the source's in the list at the end, ``says`` what the page states.

    ``role`` is empty for a statement that counts, else what became of it, such as superseded.
    """

    number: int
    title: str
    page: str
    says: str
    role: str

    @property
    def words(self) -> str:
        """Title, page and number in the list, and the role where it has one."""
        page = f", page {self.page}" if self.page else ""
        return f"{self.title}{page} [{self.number}]" + (f" ({self.role})" if self.role else "")

    @property
    def short(self) -> str:
        """The number in the list with the page."""
        page = f" p. {self.page}" if self.page else ""
        return f"[{self.number}]{page}" + (f" ({self.role.partition(':')[0]})" if self.role else "")


@record()
class SheetFigure:
    """A figure in one state as the book answers it; or, where the book refuses, ``refused`` why and the ``candidates``.

    ``how`` is as printed or worked out, ``sure`` the standing in words, ``where`` the numbers of its sources in the
    list with their pages.
    """

    figure: str
    label: str
    state: str
    when: str
    printed: str
    also: tuple[str, ...]
    how: str
    sure: str
    unit: str
    where: str
    cited: tuple[Citing, ...]
    remarks: tuple[str, ...]
    refused: str
    candidates: tuple[str, ...]


@record()
class SheetTarget:
    """What to set one figure to by the timing light: ``set_to``, empty where ``given`` has no number.

    ``right`` names the readings between which it is right, ``margin`` what is kept in hand, ``rim`` its place on the
    flywheel, ``piston`` the same as piston travel, ``running`` what it will be when running.
    ``rule`` is how to correct for the dead-centre reading, where none was given; ``working`` how the figure was worked
    out, where no page prints it. ``others`` is the figure in the other states and under the other conditions that the
    book has; ``step`` the step of the job; ``strip`` the part of the rim with the target on it, as SVG.
    """

    given: SheetFigure
    step: int
    set_to: str
    right: str
    margin: str
    rim: str
    piston: str
    running: str
    rule: str
    working: tuple[str, ...]
    remarks: tuple[str, ...]
    others: tuple[SheetFigure, ...]
    strip: str


@record()
class SheetCaution:
    """A caution: danger, warning or care; and the rule or practice behind it.

    ``told_at`` is the earlier step that has its text, so that here the title is enough; zero where the text is here.
    """

    severity: str
    title: str
    text: str
    behind: str
    told_at: int


@record()
class Blank:
    """A box to write in: its label, the unit printed in it, and whether it has before and after to tick."""

    label: str
    of: str
    unit: str
    sided: bool

    @property
    def words(self) -> str:
        """What goes in, in words."""
        return f"{self.label}, {self.of}" if self.of else self.label


@record()
class SheetStep:
    """One step: what to do and why, its figure, cautions, boxes, and the steps that must then be checked again.

    ``gate`` is what must be ticked one by one before going on. ``stale`` are numbers of earlier steps.
    """

    number: int
    id: str
    do: str
    why: str
    given: tuple[SheetFigure, ...]
    targets: tuple[SheetTarget, ...]
    cautions: tuple[SheetCaution, ...]
    gate: tuple[str, ...]
    blanks: tuple[Blank, ...]
    stale: tuple[int, ...]
    module: str


@record()
class Listed:
    """A source in the list: its number, title, kind, and the pages that the sheet cites."""

    number: int
    id: str
    title: str
    kind: str
    pages: tuple[str, ...]


@record()
class Hazard:
    """A figure whose wrong value breaks the engine or hurts someone, and how well it is supported."""

    label: str
    when: str
    sure: str

    @property
    def words(self) -> str:
        """The figure, when, and how sure."""
        return f"{self.label.lower()}{f' ({self.when})' if self.when else ''}: {self.sure}"


@record()
class Sheet:
    """One engine, one job. ``told_apart`` is what tells it from its ``twins``, empty without any.
    ``drawings`` are SVG with a heading each; ``no_drawings`` says why one is missing."""

    family: str
    name: str
    maker: str
    told_apart: str
    twins: tuple[str, ...]
    also_called: tuple[str, ...]
    look_for: str
    fits: tuple[str, ...]
    engine: tuple[str, ...]
    cylinders: int
    serial: str
    year: str
    dead_centre: str
    dead_centre_rule: str
    routine: str
    about: str
    date: str
    invented: bool
    first: str
    hazards: tuple[Hazard, ...]
    targets: tuple[SheetTarget, ...]
    steps: tuple[SheetStep, ...]
    pulls: tuple[str, ...]
    rest: tuple[SheetFigure, ...]
    sources: tuple[Listed, ...]
    address: str
    drawings: tuple[tuple[str, str], ...]
    no_drawings: tuple[str, ...]

    @property
    def full_name(self) -> str:
        """Maker and name."""
        return f"{self.maker} {self.name}"

    @property
    def title(self) -> str:
        """Maker and name, and where it has twins what tells it apart."""
        return ", ".join(filter(None, (self.full_name, self.told_apart)))

    @property
    def rests_on(self) -> str:
        """The data that it is based on, in words."""
        count = len(self.sources)
        return f"data of {self.date}, from {count} source{'' if count == 1 else 's'}"


def plain_values(value: Any) -> Any:
    """A record as plain values: mappings by field, lists, text, numbers."""
    names = getattr(value, "__match_args__", None)
    if names:
        return {name: plain_values(getattr(value, name)) for name in names}
    return [plain_values(one) for one in value] if isinstance(value, tuple) else value
