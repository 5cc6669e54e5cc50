"""What every book answers, whether it lies in memory or in a compiled file."""

from __future__ import annotations

from abc import ABC, abstractmethod

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from fractions import Fraction
    from types import TracebackType
    from typing import Any, Self

    from kb.book.aim import Aim
    from kb.book.answer import Answer
    from kb.book.find import Hit
    from kb.book.fits import Document
    from kb.book.job import Job
    from kb.book.judge import Judged
    from kb.book.records import Family, Statement
    from kb.book.reference import FigureKind, Maker, Source


class Book(ABC):
    """Families, sources and standings, ready for look-ups.

    ``date`` is the day that the data is from; ``invented`` says that all of it is invented demonstration data.
    ``retired`` holds what was given up, by its old id, of any kind.
    """

    date: str
    invented: bool
    figures: Mapping[str, FigureKind]
    makers: Mapping[str, Maker]
    sources: Mapping[str, Source]
    cautions: Mapping[str, Document]
    routines: Mapping[str, Document]
    retired: Mapping[str, Document]

    @abstractmethod
    def family_ids(self) -> Sequence[str]:
        """Every family's id, sorted."""

    @abstractmethod
    def get_family(self, family: str) -> Family | None:
        """The family with that id, or nothing."""

    @abstractmethod
    def get_heading(self, family: str) -> Family | None:
        """The family with that id, perhaps without its figures, or nothing; cheaper than all of it."""

    @abstractmethod
    def reference(self, kind: str, key: str) -> Document | None:
        """What a file holds that families refer to, or nothing.

        ``kind`` is figure, maker, source, caution, routine, report or retired, ``key`` its id.
        """

    @abstractmethod
    def settled(self, family: str, figure: str) -> tuple[Document, Document] | None:
        """What a look-up tells of a family, and what the figure comes to, as ``kb.book.settle`` says it.

        Told are its name, maker, cautions and whether it is invented.

        Nothing when there is no such family or figure, or nobody has said anything that bears on it.
        """

    @abstractmethod
    def withdrawn(self, family: str) -> Sequence[Document]:
        """The family's entries of withdrawn.yaml."""

    @abstractmethod
    def reports(self, family: str) -> Mapping[str, Document]:
        """The reports of jobs on engines of the family, as typed, by the last part of their id: the earliest first."""

    @abstractmethod
    def named(self, name: str) -> Sequence[str]:
        """The ids of families that bear exactly that name, with or without the maker's before it; case aside."""

    @abstractmethod
    def find(self, words: str, limit: int = 20) -> list[Hit]:
        """Families by what is known of them, best first; forgiving. See ``kb.book.find``."""

    @abstractmethod
    def _properties(self) -> Iterator[tuple[str, Document]]:
        """Every family's id with its heading, for queries by property."""

    def statements(self, family: str, figure: str) -> tuple[Statement, ...]:
        """The statements of one figure of a family; empty when nobody has said anything."""
        found = self.get_family(family)
        return found.statements.get(figure, ()) if found else ()

    def family(self, family: str, *, serial: str | int | None = None, year: int | None = None) -> Family:
        """The one family with that id or name.

        Raises:
            FamilyNotFound, FamilyRetired, SeveralFamilies, SerialFitsNone, YearFitsNone: each says what to type.
        """
        if serial is None and year is None and (found := self.get_family(family)):
            return found
        from kb.book.resolve import resolve

        heading = resolve(self, family, serial=serial, year=year)
        return self.get_family(heading.id) or heading

    def look_up(
        self,
        family: str,
        figure: str,
        state: str | None = None,
        *,
        serial: str | int | None = None,
        year: int | None = None,
        **conditions: Any,
    ) -> Answer:
        """One figure of one family.

        ``conditions`` are ``rpm``, ``gear``, ``cylinder``, ``bank``, ``carburettor``, ``module``, ``engine``,
        ``plugs``, ``octane`` and ``altitude``, as in the files. See ``kb.book.look_up`` for how it answers.

        Raises:
            LookUpError, Refusal: one of their kinds, which see; it carries the candidates.
        """
        from kb.book.look_up import look_up

        return look_up(self, family, figure, state, serial=serial, year=year, **conditions)

    def aim(
        self,
        family: str,
        figure: str,
        state: str | None = None,
        *,
        margin: Fraction | int = 0,
        dead_centre: Fraction | int | None = None,
        serial: str | int | None = None,
        year: int | None = None,
        running_rpm: Fraction | int | None = None,
        **conditions: Any,
    ) -> Aim:
        """What the pointer should show for a figure of a family on one engine today; see ``kb.book.aim``.

        ``margin`` in degrees to the late side; ``dead_centre`` is what the pointer shows at true top dead centre, in
        signed degrees, before positive; ``running_rpm`` a speed at which to tell what it will be when running.

        Raises:
            LookUpError, Refusal: as ``look_up``; DeadCentreTooFar, MarginTooWide, NotAnAngle.
        """
        from kb.book.aim import aim

        return aim(
            self, family, figure, state, margin=margin, dead_centre=dead_centre, serial=serial, year=year,
            running_rpm=running_rpm, **conditions,
        )  # fmt: skip

    def judge(
        self,
        family: str,
        figure: str,
        reading: Fraction | int,
        state: str | None = None,
        *,
        margin: Fraction | int = 0,
        dead_centre: Fraction | int | None = None,
        serial: str | int | None = None,
        year: int | None = None,
        running_rpm: Fraction | int | None = None,
        **conditions: Any,
    ) -> Judged:
        """Whether what the pointer shows, in signed degrees (before positive), is right; see ``kb.book.judge``.

        Raises:
            LookUpError, Refusal: as ``aim``.
        """
        from kb.book.judge import judge

        return judge(
            self, family, figure, reading, state, margin=margin, dead_centre=dead_centre, serial=serial, year=year,
            running_rpm=running_rpm, **conditions,
        )  # fmt: skip

    def job(self, family: str, *, serial: str | int | None = None, year: int | None = None) -> Job:
        """The order of work for a family, with the steps that apply to its engine; see ``kb.book.job``.

        Raises:
            RoutineNotFound: the family does not say its linkage, or the book has no routine for that.
            LookUpError: one of its kinds; the family is not found.
        """
        from kb.book.job import job

        return job(self, family, serial=serial, year=year)

    def families(self, **properties: Any) -> list[str]:
        """The ids of families with all the given properties.

        ``maker``, ``cylinders``, ``ignition``, ``cycle``, ``layout``, ``linkage``, ``carburettors``, ``module`` and
        ``figure`` must be equal (a list asks for any of its values); ``year`` and ``serial`` must lie in a range;
        ``power`` is a number in hp, or a pair (least, most).

        Raises:
            TypeError: there is no such property.
        """
        from kb.book.query import holds

        return [family for family, document in self._properties() if holds(document, properties)]

    @abstractmethod
    def close(self) -> None:
        """Give back what the book holds open; it answers no more."""

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
