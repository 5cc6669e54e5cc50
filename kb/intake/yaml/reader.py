"""Reading a YAML file: its text, its data with every scalar as text, its places, and its faults.

A broken part is cut out by its indentation and the rest is read, so that a file that is half right still gets all its
other findings. Places are looked up in the tree only when needed.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import Any

import yaml

from kb.finding import WHOLE_FILE, Part, Path, Place
from kb.frozen import cached_property
from kb.intake.yaml.decoding import MOST_OF_A_KIND, decode, without_lone_surrogates
from kb.intake.yaml.fault import Fault
from kb.intake.yaml.limits import LimitExceeded, first_document, needs_walk, walk
from kb.intake.yaml.salvage import cut_part
from kb.intake.yaml.syntax_errors import explain_syntax_error, unclosed_lines
from kb.intake.yaml.text_lines import Lines
from kb.intake.yaml.tree import Irregular, build, build_with_faults, child, may_have_needless_quotes, span

try:
    from yaml._yaml import CParser
except ImportError as error:  # without it a file takes twenty times as long, and its errors are worded differently
    raise ImportError(
        "PyYAML is installed without its C part (libyaml); "
        "run: pip install --force-reinstall --only-binary :all: PyYAML"
    ) from error


class _UntaggedParser(CParser):
    """The parser that builds the tree without working out a tag for each node.

    Nothing uses the tags, and they take nearly half of the time of building a tree. The replacement for the three calls
    per node takes any arguments, returns an empty text, and runs no Python code.
    """

    resolve = descend_resolver = ascend_resolver = "".format


MOST_BYTES = 1 << 20
"""How large a file may be: the size of some two hundred families."""

_MOST_CUTS = 20
_MOST_CUTS_OF_LARGE = 3
_LARGE = 100_000


@dataclass(frozen=True)
class ReadText:
    """The text of one file and what was read from it.

    ``root`` is the tree, or None if there was nothing to build one from (``data`` is then empty). ``data`` holds dicts,
    lists and text; an empty value is ``""``. Each of the ``faults`` has its place. ``cut`` are the paths of parts that
    could not be read: what is missing there is not missing in the file.
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
        """The text of a line, counted from 1; empty if there is no such line."""
        return self.lines.line(number)

    def at(self, place: Place) -> str:
        """The text that a place marks."""
        return self.lines.at(place)

    def place(self, path: Path, part: Part = Part.VALUE) -> Place:
        """The place of the value or the key at a path.

        A value's span is its own text, including quotes and brackets; the place of an empty value is after its key's
        colon. An entry of a list has no key, so its value is marked. A path that leads nowhere gives the value of its
        nearest existing parent.
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
    """Read the bytes of one file. Never raises: everything that is wrong is among the faults, each with its place."""
    if len(raw) > MOST_BYTES:
        text = raw[:200].decode("utf-8", "replace").split("\n")[0]
        place = Lines(text).whole_line(1)
        fault = Fault("file-too-large", found=str(len(raw)), expected=(str(MOST_BYTES),), place=place)
        return ReadText(text, None, {}, (fault,))
    decoded = decode(raw)
    lines = Lines(decoded.text)
    clean, faults = first_document(decoded.clean, lines)
    building = _TreeBuilding(clean, lines, [*decoded.faults, *faults], decoded.altered)
    building.run()
    return ReadText(decoded.text, building.root, building.data, _limited(building.faults), tuple(building.paths))


def _limited(faults: list[Fault]) -> tuple[Fault, ...]:
    """The faults, limited to the number of each rule that is reported at once."""
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
class _TreeBuilding:
    """Building the tree of a text, cutting out broken parts one by one until the rest can be built."""

    clean: str
    lines: Lines
    faults: list[Fault]
    altered: frozenset[int]
    root: yaml.Node | None = None
    data: Any = field(default_factory=dict)
    paths: list[Path] = field(default_factory=list)
    cut_lines: list[range] = field(default_factory=list)

    def run(self) -> None:
        """Try until the tree is built or there is nothing left to cut."""
        for _ in range(_MOST_CUTS_OF_LARGE if len(self.clean) > _LARGE else _MOST_CUTS):
            try:
                self._build()
            except LimitExceeded as limit:
                if not self._handle_limit(limit):
                    return
            except yaml.YAMLError as error:
                if not self._handle_error(error):
                    return
            else:
                return

    def _build(self) -> None:
        walked = walk(self.clean, self.lines) if needs_walk(self.clean) else None
        if walked and walked.unsafe:
            self.clean = walked.without_aliases()
        found = walked.faults if walked else []
        root = _UntaggedParser(self.clean).get_single_node()
        if root is None or (isinstance(root, yaml.ScalarNode) and not root.value):
            self.faults += found
            if not found and not self.cut_lines:
                self.faults.append(Fault("empty-file", place=self.lines.whole_line(1)))
            return
        data = self._data(root, found)
        self.root, self.data = root, data
        if not isinstance(data, dict):
            kind = "a list" if isinstance(data, list) else "plain text"
            place = self.lines.whole_line(root.start_mark.line + 1)
            self.faults.append(Fault("not-a-mapping", found=kind, place=place))

    def _data(self, root: yaml.Node, found: list[Fault]) -> Any:
        """The data of the tree; adds the faults ``found`` on the way to it and those that only the tree shows."""
        if not found and "<<" not in self.clean and not may_have_needless_quotes(self.clean):
            try:
                return build(root)
            except (Irregular, TypeError):
                walk(self.clean, self.lines)  # raises if the nesting is too deep or there is too much
        data = build_with_faults(root, self.lines, found)
        self.faults += found
        return data

    def _handle_limit(self, limit: LimitExceeded) -> bool:
        """Report the limit and cut out the part that exceeds it; whether the rest can be tried."""
        if not limit.line:
            self.faults += limit.faults
            return False
        if not any(fault.rule == limit.faults[-1].rule for fault in self.faults):
            self.faults.append(limit.faults[-1])
        return self._cut(limit.line)

    def _handle_error(self, error: yaml.YAMLError) -> bool:
        """Report the error of the parser and cut out the broken part; whether anything was cut."""
        fault = explain_syntax_error(error, self.clean)
        if fault.rule == "lone-surrogate" and (corrected := without_lone_surrogates(self.clean)) != self.clean:
            self.faults.append(fault)
            self.clean = corrected
            return True
        within = unclosed_lines(error)
        follows = within and any(within[0] <= part[0] and part[-1] <= within[1] for part in self.cut_lines)
        before = len(self.cut_lines)
        line = within[0] if within and follows else fault.place.line if fault.place else 1
        progress = self._cut(line)
        altered = any(self.altered.intersection(part) for part in self.cut_lines[before:])
        if not follows and not altered:
            self.faults.append(fault)
        return progress

    def _cut(self, line: int) -> bool:
        self.clean, part, path = cut_part(self.clean, line)
        if part:
            self.cut_lines.append(part)
            self.paths += [path] if path else []
        return bool(part)
