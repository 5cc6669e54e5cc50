"""What families refer to, as mappings that read a compiled book when they are asked."""

from __future__ import annotations

from collections.abc import Mapping

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from typing import Any

    from kb.book.model.catalogue import FigureKind
    from kb.book.model.engine_ranges import Document


class References(Mapping[str, "Any"]):
    """What families refer to, of one kind, read when asked for."""

    def __init__(
        self,
        read: Callable[[str, str], Document | None],
        ids: Callable[[str], Sequence[str]],
        kind: str,
        make: Callable[[str, Document], Any] | None,
    ) -> None:
        self._read, self._ids, self._kind, self._make = read, ids, kind, make

    def __getitem__(self, key: str) -> Any:
        document = self._read(self._kind, key)
        if document is None:
            raise KeyError(key)
        return self._make(key, document) if self._make else document

    def __iter__(self) -> Iterator[str]:
        return iter(self._ids(self._kind))

    def __len__(self) -> int:
        return len(self._ids(self._kind))


class DefaultStates(Mapping[str, str]):
    """The state of each figure that can stand in just one, read when asked for."""

    def __init__(self, figures: Mapping[str, FigureKind]) -> None:
        self._figures = figures

    def __getitem__(self, figure: str) -> str:
        if state := self._figures[figure].default_state:
            return state
        raise KeyError(figure)

    def __iter__(self) -> Iterator[str]:
        return (figure for figure, kind in self._figures.items() if kind.default_state)

    def __len__(self) -> int:
        return sum(1 for _ in self)
