"""Limits, checked before the tree is built: text that would make the tree huge is stopped and reported here.

The parser gives its events one at a time, so it can be stopped; the tree comes all at once, and not every version of
its C part limits the depth. A few cheap counts recognise ordinary files, which go straight to the tree.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import NoReturn

import yaml

from kb.intake.yaml.fault import Fault
from kb.intake.yaml.text_lines import Lines, shortened

MOST_DEPTH = 32
"""How deep lists and mappings may be nested; the deepest file of a book needs nine levels."""
MOST_KEYS = 1_000
"""How many keys one mapping may have."""
MOST_NODES = 20_000
"""How many keys and values one file may have, counting what aliases repeat."""
MOST_CHARACTERS = 10_000
"""How long one value may be."""

_SMALL = 10_000  # a file of up to so many characters can exceed only the limits of depth and of keys
_MANY_OPENINGS = 250
_PROPERTY = re.compile(r"(?:^|[\s\[{,:])(?:[&*]\S|!)")
_BRACKET = re.compile(r"[\[\]{}]")
_TAG = re.compile(r"!<[^>\s]*>|![^\s,\[\]{}]*")
_DIRECTIVE = re.compile(r"^%.*", re.MULTILINE)
_MARKER = re.compile(r"^(?:---|\.\.\.)(?=\s|$)", re.MULTILINE)
_CONTENT = re.compile(r"^ *[^\s#]", re.MULTILINE)


class LimitExceeded(Exception):
    """The file exceeds a limit.

    The last of ``faults`` names the limit, the others were found before it. ``line`` is where the part to cut begins,
    or 0 if nothing can be cut.
    """

    def __init__(self, faults: list[Fault], line: int) -> None:
        super().__init__(faults[-1].rule)
        self.faults = faults
        self.line = line


def first_document(clean: str, lines: Lines) -> tuple[str, list[Fault]]:
    """The text of the first document, without directives and end markers, and the faults found in them."""
    faults = []
    if clean.startswith("%") or "\n%" in clean:
        found = [match.span() for match in _DIRECTIVE.finditer(clean)]
        faults = [Fault("directive", found=shortened(clean[a:b]), place=lines.place(a, b)) for a, b in found[:20]]
        clean = wipe(clean, found)
    if clean.startswith(("---", "...")) or "\n---" in clean or "\n..." in clean:
        second = _second_document(clean)
        if second >= 0:
            line = lines.place(second, second).line
            faults.append(Fault("second-document", found=shortened(lines.line(line)), place=lines.whole_line(line)))
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


def needs_walk(clean: str) -> bool:
    """Whether the limits must be checked, event by event, before the tree may be built."""
    return (
        len(clean) > _SMALL
        or clean.count("[") + clean.count("{") > _MANY_OPENINGS
        or clean.count("- ") + clean.count("? ") > _MANY_OPENINGS
        or (("&" in clean or "*" in clean or "!" in clean) and _PROPERTY.search(clean) is not None)
    )


def walk(clean: str, lines: Lines) -> EventWalk:
    """Check the events of a text against the limits.

    Raises:
        LimitExceeded: a limit is exceeded; nothing after that place is checked.
        yaml.YAMLError: the parser cannot go on.
    """
    walked = EventWalk(clean, lines)
    try:
        for event in yaml.parse(clean, Loader=yaml.CBaseLoader):
            walked.step(event)
    except yaml.MarkedYAMLError as error:
        # Some versions of libyaml have a limit of their own and reach it while looking ahead.
        if "nesting depth" in (error.problem or ""):
            walked.too_deep_ahead()
        raise
    return walked


class EventWalk:
    """The faults in the events of a text so far.

    ``unsafe`` means that aliases lead nowhere, in circles or to too much, so that the tree must be built from the text
    ``without_aliases``.
    """

    def __init__(self, clean: str, lines: Lines) -> None:
        self.faults: list[Fault] = []
        self.unsafe = False
        self._anchors: list[tuple[int, int]] = []
        self._aliases: list[tuple[int, int]] = []
        self._clean = clean
        self._lines = lines
        self._opened: list[_OpenCollection] = []
        self._sizes: dict[str, int] = {}  # of each anchored node, counting what aliases in it repeat
        self._last = 0  # where the last node ends
        self._nodes = 0
        self._expanded = 0  # the nodes that aliases would add

    def without_aliases(self) -> str:
        """The text without its anchors and with an empty value for each alias; its length is kept."""
        clean = wipe(self._clean, self._anchors)
        pieces, done = [], 0
        for start, end in self._aliases:  # an alias has at least two characters
            pieces += [clean[done:start], "''" + " " * (end - start - 2)]
            done = end
        return "".join([*pieces, clean[done:]])

    def step(self, event: yaml.Event) -> None:
        """Check the next event."""
        if isinstance(event, yaml.CollectionEndEvent):
            closed = self._opened.pop()
            self._sizes[closed.anchor] = self._nodes + self._expanded - closed.before
        elif isinstance(event, yaml.NodeEvent):
            start, end = event_span(event)
            self._last = end
            self._count(start, end)
            if isinstance(event, yaml.AliasEvent):
                self._alias(event.anchor or "", start, end)
                return
            self._properties(event, start)
            if isinstance(event, yaml.ScalarEvent):
                if len(event.value) > MOST_CHARACTERS:
                    end = start + len(self._clean[start:end].rstrip())
                    self._add("scalar-too-long", start, end, str(len(event.value)), (str(MOST_CHARACTERS),))
            elif isinstance(event, yaml.CollectionStartEvent):
                self._open(event, start)

    def too_deep_ahead(self) -> None:
        """Find the bracket that is too deep, after the parser gave up on nested brackets without an event for them."""
        depth = len(self._opened)
        for bracket in _BRACKET.finditer(self._clean, self._last):
            depth += 1 if bracket.group() in "[{" else -1
            if depth > MOST_DEPTH:
                self._too_deep(bracket.start())

    def _count(self, start: int, end: int) -> None:
        self._nodes += 1
        holder = self._opened[-1] if self._opened else _OpenCollection("", 0, False, False, 0)
        holder.children += 1
        limit: tuple[str, ...] = ()
        if self._nodes > MOST_NODES:
            limit = (str(MOST_NODES), "keys and values")
        elif holder.mapping and holder.children > 2 * MOST_KEYS:
            limit = (str(MOST_KEYS), "keys")
        if limit:
            self._add("too-many-entries", start, end, shortened(self._clean[start:end]), limit)
            raise LimitExceeded(self.faults, 0)

    def _alias(self, anchor: str, start: int, end: int) -> None:
        self._add("alias", start, end, anchor)
        self._aliases.append((start, end))
        self._expanded += self._sizes.get(anchor, MOST_NODES)
        self.unsafe |= self._expanded >= MOST_NODES

    def _properties(self, event: yaml.NodeEvent, start: int) -> None:
        """The anchor and the tag before a node."""
        if event.anchor:
            at = self._clean.index(f"&{event.anchor}", start)
            self._anchors.append((at, at + len(event.anchor) + 1))
            self._add("anchor", *self._anchors[-1], event.anchor)
            self.unsafe |= event.anchor in self._sizes
            # A list or mapping that contains an alias of itself has no end; its size is known when it closes.
            self._sizes[event.anchor] = 1 if isinstance(event, yaml.ScalarEvent) else MOST_NODES
        if getattr(event, "tag", None) is not None and (tag := _TAG.search(self._clean, start)):
            self._add("tag", *tag.span(), shortened(tag.group()))

    def _open(self, event: yaml.CollectionStartEvent, start: int) -> None:
        line = self._lines.place(start, start).line
        mapping = isinstance(event, yaml.MappingStartEvent)
        before = self._nodes - 1 + self._expanded
        self._opened.append(_OpenCollection(event.anchor or "", line, bool(event.flow_style), mapping, before))
        if len(self._opened) > MOST_DEPTH:
            self._too_deep(start)

    def _too_deep(self, start: int) -> NoReturn:
        self._add("nested-too-deep", start, start + 1, expected=(str(MOST_DEPTH),))
        line = self._lines.place(start, start).line
        raise LimitExceeded(self.faults, next((outer.line for outer in self._opened if outer.flow), line))

    def _add(self, rule: str, start: int, end: int, found: str = "", expected: tuple[str, ...] = ()) -> None:
        self.faults.append(Fault(rule, found=found, expected=expected, place=self._lines.place(start, end)))


@dataclass(slots=True)
class _OpenCollection:
    """A list or mapping that is still open, and how many nodes came before it."""

    anchor: str
    line: int
    flow: bool
    mapping: bool
    before: int
    children: int = 0


def event_span(event: yaml.Event) -> tuple[int, int]:
    """Where an event begins and ends in the text; the parser gives every event both marks."""
    start, end = event.start_mark, event.end_mark
    return (start.index, end.index) if start and end else (0, 0)


def wipe(text: str, spans: list[tuple[int, int]]) -> str:
    """The text with spaces in place of the spans, which do not overlap; line ends stay."""
    pieces, done = [], 0
    for start, end in sorted(spans):
        blanked = text[start:end]
        pieces += [text[done:start], "\n".join(" " * len(line) for line in blanked.split("\n"))]
        done = end
    return "".join([*pieces, text[done:]])
