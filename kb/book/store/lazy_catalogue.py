"""What families refer to, as mappings that read a compiled book on access."""

from __future__ import annotations

from collections.abc import Mapping

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from typing import Any

    from kb.book.model.catalogue import FigureKind
    from kb.book.model.engine_ranges import Document


class References(Mapping[str, "Any"]):
    """What families refer to, of one kind: each read when it is first asked for, and kept."""

    def __init__(
        self,
        read: Callable[[str, str], Any],
        ids: Callable[[str], Sequence[str]],
        kind: str,
        make: Callable[[str, Document], Any] | None = None,
    ) -> None:
        self._read, self._ids, self._kind, self._make = read, ids, kind, make
        self._held: dict[str, Any] = {}

    def get(self, key: str, default: Any = None) -> Any:
        """What has that id, or the default."""
        found = self._held.get(key)
        if found is None:
            document = self._read(self._kind, key)
            if document is None:
                return default
            found = self._held[key] = self._make(key, document) if self._make else document
        return found

    def __getitem__(self, key: str) -> Any:
        found = self.get(key)
        if found is None:
            raise KeyError(key)
        return found

    def __iter__(self) -> Iterator[str]:
        return iter(self._ids(self._kind))

    def __len__(self) -> int:
        return len(self._ids(self._kind))


class DefaultStates(Mapping[str, str]):
    """The state of each figure that has only one, read on access."""

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
