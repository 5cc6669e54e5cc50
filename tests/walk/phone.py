"""The phone in a mechanic's hand: the job's own modules under Node, and the screens that they draw, as data."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from tests.npm import package
from tests.support.folders import ASSETS, TESTS
from tests.support.node import NodeEnded, NodeProcess

HERE = TESTS / "walk"
LASTS = 400
"""Pages opened before Node begins anew: every page is a module that stays in its memory."""

Thing = Mapping[str, Any]
Hand = tuple[Any, ...]


class PhoneError(AssertionError):
    """A script of the page went wrong."""


class Screen:
    """What is drawn: its address, its title, and the things on it in their order."""

    def __init__(self, drawn: Mapping[str, Any]) -> None:
        self.route: str = drawn["route"]
        self.title: str = drawn["title"]
        self.things: list[Thing] = drawn["things"]
        self.sight: str = drawn["sight"]

    @property
    def step(self) -> str:
        """The last part of the address."""
        return self.route.rpartition("/")[2]

    def all(self, kind: str, *, folded: bool = False) -> Iterator[Thing]:
        """The things of a kind in sight, or folded away too."""
        return (one for one in self.things if one["kind"] == kind and (folded or not one.get("folded")))

    def find(self, key: str) -> Thing | None:
        """A thing by its id, or a choice by its name."""
        return next((one for one in self.things if key in (one.get("id"), one.get("name"))), None)

    def part(self, name: str) -> list[Thing]:
        """The things of a part by its label."""
        return [one for one in self.things if name in one.get("within", ())]

    def look(self, name: str) -> list[str]:
        """The texts in sight that look so."""
        texts = (one for kind in ("text", "summary") for one in self.all(kind))
        return [one["words"] for one in texts if name in one["look"].split()]

    @property
    def words(self) -> str:
        """All that can be read on it."""
        return "\n".join(one.get("words") or one.get("legend", "") for one in self.things if not one.get("folded"))


class Phone:
    """One Node process; a job after another, each on an empty phone."""

    def __init__(self, assets: Path = ASSETS) -> None:
        self._assets = assets
        self._node: NodeProcess | None = None
        self._pages = 0
        self._given: dict[str, Any] = {}
        self._fresh: dict[str, Any] = {}
        self.taps = 0
        self.screens = 0

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._stop()

    def keep(self, documents: Mapping[str, Any]) -> None:
        """Documents that the site serves from now on."""
        new = {path: document for path, document in documents.items() if path not in self._given}
        self._given |= new
        self._fresh |= new

    def reset(self, seed: int) -> None:
        """An empty phone."""
        if self._pages >= LASTS:
            self._stop()
        if self._node is None:
            self._start()
            self._fresh = dict(self._given)
        self._ask({"reset": seed, "documents": self._fresh})
        self._fresh = {}
        self.taps = self.screens = 0

    def open(self, address: str, tab: int = 0) -> Screen:
        """The Jobs page in a tab; in one that is there it is a reload."""
        self._pages += 1
        self.screens += 1
        return Screen(self._ask({"open": f"#{address}" if address else "", "tab": tab}))

    def do(self, *hands: Hand, tab: int = 0, later: int = 0) -> Screen:
        """What a hand does, one after the other, after some milliseconds; and what is then on the screen."""
        self.taps += len(hands)
        return Screen(self._ask({"hands": hands, "tab": tab, "later": later}))

    def entries(self) -> list[dict[str, Any]]:
        """What the phone keeps."""
        return list(self._ask({"entries": True}))

    def _ask(self, wanted: Mapping[str, Any]) -> Any:
        assert self._node is not None
        try:
            said = self._node.ask(wanted)
        except NodeEnded as error:
            raise PhoneError(f"the phone went dark: {error}") from None
        if "error" in said:
            raise PhoneError(said["error"])
        return said

    def _start(self) -> None:
        linkedom = package("linkedom") / "esm" / "index.js"
        self._node = NodeProcess(HERE / "phone.mjs", linkedom, self._assets / "job" / "page.js")
        self._pages = 0

    def _stop(self) -> None:
        node, self._node = self._node, None
        if node is not None:
            node.stop()
