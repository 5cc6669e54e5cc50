"""A look at the text before the tree is built: what would blow it up is stopped here, and told by its own name.

The parser's events come one at a time, so that it can be stopped; the tree comes all at once, and its C part has no
limit to its depth in every version. Ordinary files are told apart by a few cheap counts and go straight to the tree.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NoReturn

import yaml

from kb.intake.yaml.fault import Fault
from kb.intake.yaml.text_lines import Lines, shown

MOST_DEPTH = 32
"""How deep lists and mappings may lie in each other; the deepest file of a book needs nine."""
MOST_KEYS = 1_000
"""How many keys one mapping may hold."""
MOST_NODES = 20_000
"""How many keys and values one file may hold, aliases followed."""
MOST_CHARACTERS = 10_000
"""How long one value may be."""

_SMALL = 10_000  # no file of so many characters can reach the limits above, other than by depth or keys
_MANY_OPENINGS = 250
_PROPERTY = re.compile(r"(?:^|[\s\[{,:])(?:[&*]\S|!)")
_BRACKET = re.compile(r"[\[\]{}]")
_TAG = re.compile(r"!<[^>\s]*>|![^\s,\[\]{}]*")
_DIRECTIVE = re.compile(r"^%.*", re.MULTILINE)
_MARKER = re.compile(r"^(?:---|\.\.\.)(?=\s|$)", re.MULTILINE)
_CONTENT = re.compile(r"^ *[^\s#]", re.MULTILINE)


class TooMuch(Exception):
    """The file goes beyond a limit.

    The last of ``faults`` says which, the others were found before it; ``line`` is where what must go begins, or 0 if
    there is no use in going on.
    """

    def __init__(self, faults: list[Fault], line: int) -> None:
        super().__init__(faults[-1].rule)
        self.faults = faults
        self.line = line


def one_document(clean: str, lines: Lines) -> tuple[str, list[Fault]]:
    """The text of the first document, without directives and markers of its end, and what was wrong about them."""
    faults = []
    if clean.startswith("%") or "\n%" in clean:
        found = [match.span() for match in _DIRECTIVE.finditer(clean)]
        faults = [Fault("directive", found=shown(clean[a:b]), place=lines.place(a, b)) for a, b in found[:20]]
        clean = wipe(clean, found)
    if clean.startswith(("---", "...")) or "\n---" in clean or "\n..." in clean:
        second = _second_document(clean)
        if second >= 0:
            line = lines.place(second, second).line
            faults.append(Fault("second-document", found=shown(lines.line(line)), place=lines.whole_line(line)))
            clean = clean[:second]
        clean = wipe(clean, [mark.span() for mark in _MARKER.finditer(clean) if mark.group() == "..."])
    return clean, faults


def _second_document(clean: str) -> int:
    """The index at which a second document begins, or -1."""
    first = _CONTENT.search(clean)
    for marker in _MARKER.finditer(clean):
        if marker.group() == "---":
            if first and marker.start() > first.start():
                return marker.start()
        elif (after := _CONTENT.search(clean, marker.end())) and not _MARKER.match(clean, after.start()):
            return after.start()
    return -1


def suspicious(clean: str) -> bool:
    """Whether the text must be walked before its tree may be built."""
    return (
        len(clean) > _SMALL
        or clean.count("[") + clean.count("{") > _MANY_OPENINGS
        or clean.count("- ") + clean.count("? ") > _MANY_OPENINGS
        or (("&" in clean or "*" in clean or "!" in clean) and _PROPERTY.search(clean) is not None)
    )


def walk(clean: str, lines: Lines) -> EventWalk:
    """Go through the events of a text.

    Raises:
        TooMuch: a limit is passed; nothing after that place was looked at.
        yaml.YAMLError: what the parser stumbles over.
    """
    walked = EventWalk(clean, lines)
    try:
        for event in yaml.parse(clean, Loader=yaml.CBaseLoader):
            walked.step(event)
    except yaml.MarkedYAMLError as error:
        # Some versions of libyaml have a limit of their own, and reach it while they look ahead.
        if "nesting depth" in (error.problem or ""):
            walked.too_deep_ahead()
        raise
    return walked


class EventWalk:
    """What the events of a text showed so far.

    ``faults`` are told; ``unsafe`` says that aliases lead nowhere, in rings or to too much, so that
    all anchors must be wiped and all aliases emptied before the tree is built: ``tame`` gives that text.
    """

    def __init__(self, clean: str, lines: Lines) -> None:
        self.faults: list[Fault] = []
        self.unsafe = False
        self._anchors: list[tuple[int, int]] = []
        self._aliases: list[tuple[int, int]] = []
        self._clean = clean
        self._lines = lines
        self._opened: list[_Opened] = []
        self._sizes: dict[str, int] = {}  # of each anchored node, aliases in it followed
        self._last = 0  # where the last of them ends
        self._nodes = 0
        self._expanded = 0  # what aliases would add

    def tame(self) -> str:
        """The text without its anchors, and with an empty value for each alias; its length is kept."""
        clean = wipe(self._clean, self._anchors)
        pieces, done = [], 0
        for start, end in self._aliases:  # an alias has two letters at least
            pieces += [clean[done:start], "''" + " " * (end - start - 2)]
            done = end
        return "".join([*pieces, clean[done:]])

    def step(self, event: yaml.Event) -> None:
        """Take in the next event."""
        if isinstance(event, yaml.CollectionEndEvent):
            closed = self._opened.pop()
            self._sizes[closed.anchor] = self._nodes + self._expanded - closed.before
        elif isinstance(event, yaml.NodeEvent):
            start, end = bounds(event)
            self._last = end
            self._count(start, end)
            if isinstance(event, yaml.AliasEvent):
                self._alias(event.anchor or "", start, end)
                return
            self._properties(event, start)
            if isinstance(event, yaml.ScalarEvent):
                if len(event.value) > MOST_CHARACTERS:
                    end = start + len(self._clean[start:end].rstrip())
                    self._tell("scalar-too-long", start, end, str(len(event.value)), (str(MOST_CHARACTERS),))
            elif isinstance(event, yaml.CollectionStartEvent):
                self._open(event, start)

    def too_deep_ahead(self) -> None:
        """The parser gave up on brackets within brackets, before it told of them: find the one that is too deep."""
        depth = len(self._opened)
        for bracket in _BRACKET.finditer(self._clean, self._last):
            depth += 1 if bracket.group() in "[{" else -1
            if depth > MOST_DEPTH:
                self._too_deep(bracket.start())

    def _count(self, start: int, end: int) -> None:
        self._nodes += 1
        holder = self._opened[-1] if self._opened else _Opened("", 0, False, False, 0)
        holder.children += 1
        limit: tuple[str, ...] = ()
        if self._nodes > MOST_NODES:
            limit = (str(MOST_NODES), "keys and values")
        elif holder.mapping and holder.children > 2 * MOST_KEYS:
            limit = (str(MOST_KEYS), "keys")
        if limit:
            self._tell("too-many-entries", start, end, shown(self._clean[start:end]), limit)
            raise TooMuch(self.faults, 0)

    def _alias(self, anchor: str, start: int, end: int) -> None:
        self._tell("alias", start, end, anchor)
        self._aliases.append((start, end))
        self._expanded += self._sizes.get(anchor, MOST_NODES)
        self.unsafe |= self._expanded >= MOST_NODES

    def _properties(self, event: yaml.NodeEvent, start: int) -> None:
        """The anchor and the tag before a node."""
        if event.anchor:
            at = self._clean.index(f"&{event.anchor}", start)
            self._anchors.append((at, at + len(event.anchor) + 1))
            self._tell("anchor", *self._anchors[-1], event.anchor)
            self.unsafe |= event.anchor in self._sizes
            # A list or mapping that holds an alias of itself has no end; its size is known when it is closed.
            self._sizes[event.anchor] = 1 if isinstance(event, yaml.ScalarEvent) else MOST_NODES
        if getattr(event, "tag", None) is not None and (tag := _TAG.search(self._clean, start)):
            self._tell("tag", *tag.span(), shown(tag.group()))

    def _open(self, event: yaml.CollectionStartEvent, start: int) -> None:
        line = self._lines.place(start, start).line
        mapping = isinstance(event, yaml.MappingStartEvent)
        before = self._nodes - 1 + self._expanded
        self._opened.append(_Opened(event.anchor or "", line, bool(event.flow_style), mapping, before))
        if len(self._opened) > MOST_DEPTH:
            self._too_deep(start)

    def _too_deep(self, start: int) -> NoReturn:
        self._tell("nested-too-deep", start, start + 1, expected=(str(MOST_DEPTH),))
        line = self._lines.place(start, start).line
        raise TooMuch(self.faults, next((outer.line for outer in self._opened if outer.flow), line))

    def _tell(self, rule: str, start: int, end: int, found: str = "", expected: tuple[str, ...] = ()) -> None:
        self.faults.append(Fault(rule, found=found, expected=expected, place=self._lines.place(start, end)))


@dataclass(slots=True)
class _Opened:
    """A list or mapping that the events are inside of, and how many nodes came before it."""

    anchor: str
    line: int
    flow: bool
    mapping: bool
    before: int
    children: int = 0


def bounds(event: yaml.Event) -> tuple[int, int]:
    """Where an event begins and ends in the text; the parser gives every event both marks."""
    start, end = event.start_mark, event.end_mark
    return (start.index, end.index) if start and end else (0, 0)


def wipe(text: str, spans: list[tuple[int, int]]) -> str:
    """The text with blanks where the spans are, which do not overlap; line ends stay."""
    pieces, done = [], 0
    for start, end in sorted(spans):
        gone = text[start:end]
        pieces += [text[done:start], "\n".join(" " * len(line) for line in gone.split("\n"))]
        done = end
    return "".join([*pieces, text[done:]])
