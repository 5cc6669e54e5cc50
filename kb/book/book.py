"""The interface of every book, in memory or in a compiled file."""

from __future__ import annotations

from abc import abstractmethod

from kb.book.model.book_reader import BookReader
from kb.book.model.engine_on_the_stand import EngineOnTheStand

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterator
    from fractions import Fraction
    from types import TracebackType
    from typing import Any, Self, Unpack

    from kb.book.model.answer import Answer
    from kb.book.model.engine_on_the_stand import EngineKeywords
    from kb.book.model.engine_ranges import Document
    from kb.book.model.family import Family, Statement
    from kb.book.setting.aim import Aim
    from kb.book.setting.job import Job
    from kb.book.setting.judge import Judged


class Book(BookReader):
    """Families, sources and standings, for look-ups: every question that a person or a program can ask of a book."""

    @abstractmethod
    def _properties(self) -> Iterator[tuple[str, Document]]:
        """Every family's id with its heading, for queries by property."""

    def statements(self, family: str, figure: str) -> tuple[Statement, ...]:
        """The statements of one figure of a family; empty when there are none."""
        found = self.get_family(family)
        return found.statements.get(figure, ()) if found else ()

    def family(self, family: str, *, serial: str | int | None = None, year: int | None = None) -> Family:
        """The one family with that id or name.

        Raises:
            FamilyNotFound, FamilyRetired, SeveralFamilies, SerialFitsNone, YearFitsNone: each says what to type.
        """
        from kb.book.lookup.which_family import require_family

        return require_family(self, family, EngineOnTheStand.of(serial=serial, year=year))

    def look_up(self, family: str, figure: str, state: str | None = None, **engine: Unpack[EngineKeywords]) -> Answer:
        """One figure of one family.

        Keywords are what is known of the engine, ``serial`` and ``year``, and the conditions ``rpm``, ``gear``,
        ``cylinder``, ``bank``, ``carburettor``, ``module``, ``engine``, ``plugs``, ``octane`` and ``altitude``, as in
        the files. See ``kb.book.lookup.look_up`` for how it answers.

        Raises:
            LookUpError, Refusal: one of their subclasses, with candidates; see ``kb.errors``.
        """
        from kb.book.lookup.look_up import look_up

        return look_up(self, family, figure, EngineOnTheStand.of(state, **engine))

    def aim(self, family: str, figure: str, state: str | None = None, **engine: Unpack[EngineKeywords]) -> Aim:
        """What the pointer should show for a figure of a family on one engine today; see ``kb.book.setting.aim``.

        Keywords as for ``look_up``, and ``margin`` in degrees to the late side; ``dead_centre``, what the pointer shows
        at true top dead centre, in signed degrees, before positive; ``running_rpm``, a speed at which to give the
        running figure.

        Raises:
            LookUpError, Refusal: as ``look_up``; DeadCentreTooFar, MarginTooWide, NotAnAngle.
        """
        from kb.book.setting.aim import aim

        return aim(self, family, figure, EngineOnTheStand.of(state, **engine))

    def judge(
        self,
        family: str,
        figure: str,
        reading: Fraction | int,
        state: str | None = None,
        **engine: Unpack[EngineKeywords],
    ) -> Judged:
        """Whether what the pointer shows, in signed degrees (before positive), is right; see ``kb.book.setting.judge``.

        Keywords as for ``aim``.

        Raises:
            LookUpError, Refusal: as ``aim``.
        """
        from kb.book.setting.judge import judge

        return judge(self, family, figure, reading, EngineOnTheStand.of(state, **engine))

    def job(self, family: str, *, serial: str | int | None = None, year: int | None = None) -> Job:
        """The order of work for a family, with the steps that apply to its engine; see ``kb.book.setting.job``.

        Raises:
            RoutineNotFound: the family's file names no linkage, or the book has no routine for that.
            LookUpError: the family is not found.
        """
        from kb.book.setting.job import job

        return job(self, family, EngineOnTheStand.of(serial=serial, year=year))

    def families(self, **properties: Any) -> list[str]:
        """The ids of families with all the given properties.

        ``maker``, ``cylinders``, ``ignition``, ``cycle``, ``layout``, ``linkage``, ``carburettors``, ``module`` and
        ``figure`` must be equal (a list asks for any of its values); ``year`` and ``serial`` must lie in a range;
        ``power`` is a number in hp, or a pair (least, most).

        Raises:
            TypeError: there is no such property.
        """
        from kb.book.find.by_property import holds

        return [family for family, document in self._properties() if holds(document, properties)]

    @abstractmethod
    def close(self) -> None:
        """Release what the book holds open; it cannot be asked any more."""

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()
