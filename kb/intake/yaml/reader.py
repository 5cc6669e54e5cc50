"""Reading a YAML file: its text, its data with every scalar as text, its places, and its faults.

A broken part is cut out by its indentation and the rest is read, so that a file that is half right gives every other
finding. Places are looked up in the tree only when someone asks.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

import yaml

from kb.finding import WHOLE_FILE, Part, Path, Place
from kb.intake.yaml.decoding import MOST_OF_A_KIND, decode, without_lone_surrogates
from kb.intake.yaml.fault import Fault
from kb.intake.yaml.limits import TooMuch, one_document, suspicious, walk
from kb.intake.yaml.salvage import cut
from kb.intake.yaml.syntax_errors import explain_syntax_error, held_open
from kb.intake.yaml.text_lines import Lines
from kb.intake.yaml.tree import Irregular, build, build_with_care, child, may_have_idle_quotes, span

try:
    from yaml import CBaseLoader
except ImportError as error:  # without it a file takes twenty times as long, and other words would be told
    raise ImportError(
        "PyYAML was installed without its C part (libyaml); "
        "type: pip install --force-reinstall --only-binary :all: PyYAML"
    ) from error


class _Tree(CBaseLoader):
    """The parser that builds the tree, spared from working out a tag for each node: nobody asks for it.

    That takes nearly half of the time that building a tree takes.
    """

    def resolve(self, *_: Any) -> str:
        """No tag is looked at; those that are written are told of before."""
        return ""

    def descend_resolver(self, *_: Any) -> None:
        """No path to a node has a tag of its own."""

    def ascend_resolver(self) -> None:
        """Likewise."""


MOST_BYTES = 1 << 20
"""How large a file may be: the size of some two hundred families."""

_MOST_CUTS = 20
_MOST_CUTS_OF_LARGE = 3
_LARGE = 100_000


@dataclass(frozen=True)
class ReadText:
    """One file as read.

    ``root`` is the tree, or nothing if there was nothing to build one from (``data`` is then empty); ``data`` holds
    dicts, lists and text, an empty value is ``""``. ``faults`` each carry their place. ``cut`` are the paths of parts
    that were left out because they could not be read: what is missing there is not missing in the file.
    """

    text: str
    root: yaml.Node | None
    data: Any
    faults: tuple[Fault, ...] = ()
    cut: tuple[Path, ...] = ()

    @cached_property
    def lines(self) -> Lines:
        """The text by lines."""
        return Lines(self.text)

    def line(self, number: int) -> str:
        """The text of a line, counted from 1; empty where there is none."""
        return self.lines.line(number)

    def at(self, place: Place) -> str:
        """The text that a place marks."""
        return self.lines.at(place)

    def place(self, path: Path, part: Part = Part.VALUE) -> Place:
        """Where the value or the key at a path stands.

        A value's span is its own text, quotes and brackets included; an empty value stands behind its key's colon.
        An entry of a list has no key: its value is marked. A path that leads nowhere gives the value of the nearest
        parent that there is.
        """
        if self.root is None:
            return WHOLE_FILE
        node, key, astray = self.root, None, False
        for step in path:
            found = child(node, step)
            if found is None:
                astray = True
                break
            key, node = found
        if part is Part.KEY and key is not None and not astray:
            return self.lines.place(*span(key, self.text))
        return self.lines.place(*span(node, self.text, key))


def read(raw: bytes) -> ReadText:
    """Read the bytes of one file. Never raises: whatever is wrong is among the faults, each with its place."""
    if len(raw) > MOST_BYTES:
        text = raw[:200].decode("utf-8", "replace").split("\n")[0]
        place = Lines(text).whole_line(1)
        fault = Fault("file-too-large", found=str(len(raw)), expected=(str(MOST_BYTES),), place=place)
        return ReadText(text, None, {}, (fault,))
    decoded = decode(raw)
    lines = Lines(decoded.text)
    clean, faults = one_document(decoded.clean, lines)
    attempt = _Attempt(clean, lines, [*decoded.faults, *faults], decoded.bent)
    attempt.run()
    return ReadText(decoded.text, attempt.root, attempt.data, _first_of_a_kind(attempt.faults), tuple(attempt.paths))


def _first_of_a_kind(faults: list[Fault]) -> tuple[Fault, ...]:
    """The faults, as many of each rule as anyone wants to be told of at once."""
    if len(faults) <= MOST_OF_A_KIND:
        return tuple(faults)
    count: Counter[str] = Counter()
    kept = []
    for fault in faults:
        count[fault.rule] += 1
        if count[fault.rule] <= MOST_OF_A_KIND:
            kept.append(fault)
    return tuple(kept)


@dataclass
class _Attempt:
    """Building the tree of a text, again and again with the broken part cut out, until the rest can be built."""

    clean: str
    lines: Lines
    faults: list[Fault]
    bent: frozenset[int]
    root: yaml.Node | None = None
    data: Any = field(default_factory=dict)
    paths: list[Path] = field(default_factory=list)
    gone: list[range] = field(default_factory=list)

    def run(self) -> None:
        """Try until it is built, or until there is nothing left to cut."""
        for _ in range(_MOST_CUTS_OF_LARGE if len(self.clean) > _LARGE else _MOST_CUTS):
            try:
                self._build()
            except TooMuch as much:
                if not self._give_way(much):
                    return
            except yaml.YAMLError as error:
                if not self._mend(error):
                    return
            else:
                return

    def _build(self) -> None:
        walked = walk(self.clean, self.lines) if suspicious(self.clean) else None
        if walked and walked.unsafe:
            self.clean = walked.tame()
        found = walked.faults if walked else []
        root = yaml.compose(self.clean, Loader=_Tree)
        if root is None or (isinstance(root, yaml.ScalarNode) and not root.value):
            self.faults += found
            if not found and not self.gone:
                self.faults.append(Fault("empty-file", place=self.lines.whole_line(1)))
            return
        data = self._data(root, found)
        self.root, self.data = root, data
        if not isinstance(data, dict):
            kind = "a list" if isinstance(data, list) else "words"
            place = self.lines.whole_line(root.start_mark.line + 1)
            self.faults.append(Fault("not-a-mapping", found=kind, place=place))

    def _data(self, root: yaml.Node, found: list[Fault]) -> Any:
        """The data of the tree; and the faults found on the way to it, with those that only show there, are told."""
        if not found and "<<" not in self.clean and not may_have_idle_quotes(self.clean):
            try:
                return build(root)
            except (Irregular, TypeError):
                walk(self.clean, self.lines)  # which says so if it is too deep or holds too much
        data = build_with_care(root, self.lines, found)
        self.faults += found
        return data

    def _give_way(self, much: TooMuch) -> bool:
        """Tell of the limit that was passed and take out what passed it; whether the rest can be tried."""
        if not much.line:
            self.faults += much.faults
            return False
        if not any(fault.rule == much.faults[-1].rule for fault in self.faults):
            self.faults.append(much.faults[-1])
        return self._cut(much.line)

    def _mend(self, error: yaml.YAMLError) -> bool:
        """Tell of what the parser stumbled over and take it out; whether anything was taken out."""
        fault = explain_syntax_error(error, self.clean)
        if fault.rule == "lone-surrogate" and (mended := without_lone_surrogates(self.clean)) != self.clean:
            self.faults.append(fault)
            self.clean = mended
            return True
        within = held_open(error)
        follows = within and any(within[0] <= gone[0] and gone[-1] <= within[1] for gone in self.gone)
        before = len(self.gone)
        line = within[0] if within and follows else fault.place.line if fault.place else 1
        progress = self._cut(line)
        bent = any(self.bent.intersection(gone) for gone in self.gone[before:])
        if not follows and not bent:
            self.faults.append(fault)
        return progress

    def _cut(self, line: int) -> bool:
        self.clean, gone, path = cut(self.clean, line)
        if gone:
            self.gone.append(gone)
            self.paths += [path] if path else []
        return bool(gone)
