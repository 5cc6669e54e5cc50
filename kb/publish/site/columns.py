"""Many documents of similar shape stored as columns: what they share is kept once, and each can be read alone.

Every place in the documents (``.rows[max-advance].at``) is a node with one column, a number for each document: which
of the node's values stands there. A value is a scalar, the keys of a mapping, the labels of a list, or the pattern of
a text whose numbers are columns of their own. A column that follows from another is not kept: it may be
constant, follow from an earlier one by a table, or differ from one by a constant. ``site/assets/columns.js`` reads it.
"""

from __future__ import annotations

import gzip
import json
import re
import zlib
from array import array
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

_DIGITS = re.compile(r"([0-9]{1,9})")
_MANY = 48  # from this many texts in one column on, their numbers are taken out of them
_TRIED = 400  # the number of earlier columns that are tried, nearest first
_LISTS = tuple(("a", *map(str, range(count))) for count in range(64))

Mode = list[Any]
"""A column's description: ``["c"]`` constant, ``["p", bytes]`` plain, ``["d", bytes]`` differences,
``["s", node, more]`` another number and so much more, ``["f", node]`` or
``["f", node, table]`` what another column's number leads to."""


class _Node:
    """One place in the documents; for a document without that place the column repeats the last number."""

    def __init__(self, numeric: bool = False) -> None:
        self.numeric = numeric
        self.values: list[Any] = []
        self.known: dict[Any, int] = {}
        self.column = array("I")
        self.present = bytearray()
        self.children: dict[str, int] = {}
        self.inside: dict[int, list[int]] = {}

    def put(self, document: int, number: int) -> None:
        column = self.column
        if len(column) != document:
            self.fill(document, number)
        column.append(number)
        self.present.append(1)

    def fill(self, count: int, number: int) -> None:
        """Repeat the last number until there is one for each of ``count`` documents."""
        missing = count - len(self.column)
        self.column.extend([self.column[-1] if self.column else number] * missing)
        self.present.extend(bytes(missing))

    def number_of(self, key: Any, value: Any) -> int:
        number = self.known.get(key)
        if number is None:
            number = self.known[key] = len(self.values)
            self.values.append(value)
        return number


class Columns:
    """Takes documents one by one, then gives the shapes and the parts. ``labels`` are keys by whose text the entries of
    a list are told apart, so that like stands under like; entries without one are told apart by their place."""

    def __init__(self, labels: Sequence[str] = ()) -> None:
        self.labels = labels
        self.nodes = [_Node()]
        self.count = 0

    def add(self, document: Any) -> None:
        """Take in one document: anything that JSON can hold."""
        self._put(0, document)
        self.count += 1

    def _child(self, node: _Node, label: str, numeric: bool = False) -> int:
        at = node.children.get(label)
        if at is None:
            at = node.children[label] = len(self.nodes)
            self.nodes.append(_Node(numeric))
        return at

    def _put(self, at: int, value: Any) -> None:
        node, kind = self.nodes[at], type(value)
        if kind is str:
            number = node.known.get(value)
            node.put(self.count, node.number_of(value, value) if number is None else number)
        elif kind is dict:
            self._put_inside(node, ("o", *value), value.values())
        elif kind is list or kind is tuple:
            self._put_inside(node, self._labelled(value), value)
        elif kind is int or kind is bool or kind is float or value is None:
            node.put(self.count, node.number_of((kind, value), value))
        else:
            raise TypeError(f"JSON holds no {kind.__name__}")

    def _put_inside(self, node: _Node, key: tuple[str, ...], inner: Iterable[Any]) -> None:
        """Add a mapping or a list; its children are found once for each shape, whose first letter says which it is."""
        number = node.known.get(key)
        if number is None:
            number = node.number_of(key, {key[0]: key[1:]})
            mark = "." if key[0] == "o" else "["
            node.inside[number] = [self._child(node, f"{mark}{label}") for label in key[1:]]
        node.put(self.count, number)
        for at, value in zip(node.inside[number], inner, strict=True):
            if type(value) is not str:
                self._put(at, value)
                continue
            child = self.nodes[at]  # most values are texts, so these are added without a call
            if (known := child.known.get(value)) is None:
                known = child.number_of(value, value)
            if len(child.column) != self.count:
                child.fill(self.count, known)
            child.column.append(known)
            child.present.append(1)

    def _labelled(self, entries: Sequence[Any]) -> tuple[str, ...]:
        if dict not in map(type, entries):
            return _LISTS[len(entries)] if len(entries) < len(_LISTS) else ("a", *map(str, range(len(entries))))
        used: dict[str, None] = {}
        for place, entry in enumerate(entries):
            labels = (
                [entry[key] for key in self.labels if isinstance(entry.get(key), str)] if type(entry) is dict else []
            )
            label = start = labels[0] if labels else str(place)
            again = 1
            while label in used:
                again += 1
                label = f"{start} {again}"
            used[label] = None
        return ("a", *used)

    def finish(self) -> None:
        """Take the numbers out of texts where there are many, and fill up columns that end early."""
        for at in range(len(self.nodes)):
            if len(self.nodes[at].values) > _MANY:
                self._take_numbers_out(at)
        for node in self.nodes:
            node.fill(self.count, 0)

    def _take_numbers_out(self, at: int) -> None:
        node = self.nodes[at]
        patterns, taken = _Node(), list[tuple[int, ...]]()
        for value in node.values:
            pieces = _DIGITS.split(value) if isinstance(value, str) else []
            digits = pieces[1::2]
            if digits:
                widths = [len(run) if run[0] == "0" and len(run) > 1 else 0 for run in digits]
                pattern: list[Any] = [pieces[0]]
                for width, text in zip(widths, pieces[2::2], strict=True):
                    pattern += [width, text]
                number = patterns.number_of(("t", *pattern), {"t": pattern})
            elif type(value) is int and 0 <= value < 2**31:
                number = patterns.number_of(("n",), {"n": 0})
                digits = [str(value)]
            else:
                number = patterns.number_of(("v", type(value), json.dumps(value)), value)
            taken.append((number, *map(int, digits)))
        if len(patterns.values) == len(node.values):
            return
        for document, (number, there) in enumerate(zip(node.column, node.present, strict=True)):
            chosen, *numbers = taken[number]
            node.column[document] = chosen
            if there:
                for slot, digits_there in enumerate(numbers):
                    self.nodes[self._child(node, f"#{slot}", True)].put(document, digits_there)
        node.values = patterns.values

    def described(self) -> tuple[list[Any], list[tuple[array[int], int, bool]]]:
        """The description of the nodes, and the stored columns: numbers, bytes of each, whether as differences."""
        nodes, kept, free = list[Any](), list[tuple["array[int]", int, bool]](), list[int]()
        alike: dict[bytes, int] = {}
        for at, node in enumerate(self.nodes):
            mode = self._mode(at, free, alike)
            if mode[0] in "pd":
                kept.append((node.column, mode[1], mode[0] == "d"))
            if mode[0] != "c":
                free.append(at)
                alike.setdefault(node.column.tobytes(), at)
            values = [node.column[0] if node.column else 0] if node.numeric and mode[0] == "c" else node.values
            nodes.append([mode, 1 if node.numeric else 0, values, node.children])
        return nodes, kept

    def _mode(self, at: int, free: Sequence[int], alike: dict[bytes, int]) -> Mode:
        node = self.nodes[at]
        column = node.column
        if len(set(column)) < 2 and (node.numeric or len(node.values) == 1 or not column or column[0] == 0):
            return ["c"]
        if (same := alike.get(column.tobytes())) is not None:
            return ["f", same]
        most = max(column)
        width = 1 if most < 256 else 2 if most < 65536 else 4
        plain, differences = (len(zlib.compress(_planes(column, width, way), 6)) for way in (False, True))
        best: Mode = ["d", width] if differences < plain * 0.95 else ["p", width]
        cost = min(plain, differences)
        for other in list(reversed(free))[:_TRIED]:
            if cost <= 12:
                break
            source = self.nodes[other]
            table = _table(source.column, column, node.present)
            if table is not None and (paid := len(zlib.compress(json.dumps(table).encode(), 6)) + 6) < cost:
                best, cost = ["f", other, table], paid
            if node.numeric and source.numeric and (more := _constant_more(source, node)) is not None:
                return ["s", other, more]
        return best


def _table(source: array[int], column: array[int], present: bytearray) -> list[int] | None:
    """The number in another column for each number of one column, if there is just one; None if that would be long."""
    leads: dict[int, int] = {}
    for a, b, there in zip(source, column, present, strict=True):
        if there and leads.setdefault(a, b) != b:
            return None
    if len(leads) * 3 > len(column) or max(leads, default=0) > 4095:
        return None
    return [leads.get(number, 0) for number in range(max(leads, default=0) + 1)]


def _constant_more(source: _Node, node: _Node) -> int | None:
    more = None
    for a, b, there in zip(source.column, node.column, node.present, strict=True):
        if there:
            if more is None:
                more = b - a
            elif b - a != more:
                return None
    return more


def _planes(column: Sequence[int], width: int, differences: bool) -> bytes:
    """A column's bytes: all lowest bytes first, then all next ones."""
    if differences:
        column = [(b - a) % (1 << 8 * width) for a, b in zip((0, *column), column, strict=False)]
    return b"".join(bytes(number >> 8 * plane & 255 for number in column) for plane in range(width))


def parts_of(columns: Columns, size: int) -> Iterator[bytes]:
    """The shapes first, then parts of ``size`` documents each, uncompressed. ``columns`` is used up."""
    columns.finish()
    nodes, kept = columns.described()
    shapes = {"count": columns.count, "size": size, "nodes": nodes}
    try:
        yield json.dumps(shapes, ensure_ascii=False, separators=(",", ":")).encode()
    except UnicodeEncodeError:  # half of a pair of characters by itself, which no text in UTF-8 can hold
        yield json.dumps(shapes, separators=(",", ":")).encode()
    for start in range(0, columns.count, size):
        yield b"".join(_planes(column[start : start + size], width, way) for column, width, way in kept)


def compressed(raw: bytes) -> bytes:
    """Bytes compressed with gzip without a date, so that the same input gives the same output."""
    return gzip.compress(raw, 9, mtime=0)
