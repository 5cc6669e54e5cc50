"""What families refer to: kinds of figure, sources and makers, built from documents that the intake has typed."""

from __future__ import annotations

from kb.book.model.engine_ranges import Document, as_list
from kb.frozen import cached_property, record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable

    from kb.quantity import Dimension

MAXIMUM, CORRECTION = "max-advance", "cranking-correction"
"""The figures that are worked out from each other: the maximum and its correction."""


@record(hidden=("document",))
class FigureKind:
    """A catalogue entry: one kind of figure."""

    id: str
    document: Document

    @property
    def label(self) -> str:
        """Its name in the trade."""
        return str(self.document["label"])

    @cached_property
    def dimension(self) -> Dimension:
        """What it measures."""
        from kb.quantity import Dimension  # what only lists figures does without quantities

        return Dimension(self.document["dimension"])

    @cached_property
    def units(self) -> tuple[str, ...]:
        """The unit keys it may be stated in."""
        return tuple(self.document["units"])

    @cached_property
    def states(self) -> tuple[str, ...]:
        """The states it may be stated in."""
        return tuple(self.document["states"])

    @cached_property
    def conditions(self) -> tuple[str, ...]:
        """The further conditions it may be stated under."""
        return tuple(as_list(self.document.get("at")))

    @property
    def default_state(self) -> str:
        """The state of a statement that names none: only where the figure has just one."""
        return self.states[0] if len(self.states) == 1 else ""

    @property
    def hazard(self) -> str:
        """Hazard tier: A, B or C."""
        return str(self.document["hazard"])

    @property
    def hazard_because(self) -> str:
        """What a wrong value does; empty where the catalogue does not say."""
        return str(self.document.get("hazard_because", ""))

    @property
    def safest_end(self) -> str:
        """Which end of a dispute is safest: later, earlier, smaller, larger, or none."""
        return str(self.document["safest_end"])

    @property
    def aim(self) -> str:
        """Which part of the window to aim at: early-end, middle, late-end, or none."""
        return str(self.document["aim"])

    @property
    def is_limit(self) -> bool:
        """Whether a lone number is a limit on its early side, as a maximum advance is."""
        from kb.vocabulary.catalogue import SafestEnd

        return self.safest_end == SafestEnd.LATER

    @property
    def job_order(self) -> int:
        """Its place in the order of the job."""
        return int(self.document["job_order"])


@record(hidden=("document",))
class Source:
    """Where statements come from."""

    id: str
    document: Document

    @cached_property
    def kind(self) -> str:
        """Its kind, such as handbook or plate; empty while its file has faults."""
        return str(self.document.get("kind", ""))

    @property
    def title(self) -> str:
        """Its title with edition and year, as far as known."""
        return str(self.document.get("title", self.id))

    @cached_property
    def reprint_of(self) -> str:
        """The source it reprints, or empty."""
        return str(self.document.get("reprint_of", ""))

    @cached_property
    def paged(self) -> bool:
        """Whether it has pages, which a statement must then name."""
        from kb.vocabulary.evidence import PAGED_KINDS  # what only shows a source does without the list

        return self.kind in PAGED_KINDS

    @cached_property
    def hearsay(self) -> bool:
        """Whether it is memory or common practice."""
        from kb.vocabulary.evidence import HEARSAY_KINDS

        return self.kind in HEARSAY_KINDS


@record(hidden=("document",))
class Maker:
    """A maker of engines."""

    id: str
    document: Document

    @property
    def name(self) -> str:
        """Its name."""
        return str(self.document.get("name", self.id))

    @property
    def also_called(self) -> tuple[str, ...]:
        """Other names."""
        return tuple(as_list(self.document.get("also_called")))


def in_job_order(kinds: Iterable[FigureKind]) -> list[FigureKind]:
    """Kinds of figure in the order of the job."""
    return sorted(kinds, key=lambda kind: (kind.job_order, kind.id))
