"""The index that the start page searches: every heading, as columns in one file, read by ``site/assets/find``.

The words of powers and of retired ids are worked out here; the browser derives the rest from the headings as
``kb.book.find`` does, and a test compares the results of both.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Iterable, Mapping
from typing import Any

from kb.book.find.known_facts import KnownFact, RetiredIds, lines_of, power_of
from kb.book.find.words import words_of
from kb.book.model.catalogue import Maker
from kb.book.model.engine_ranges import Document, Range
from kb.book.model.family import Heading
from kb.book.model.heading_reader import HeadingReader
from kb.publish.site.columns import Columns, compressed, parts_of

INDEX = "finding/index.bin"
"""The path of the file in the site."""


def finding_files(book: HeadingReader, date: str) -> Mapping[str, bytes]:
    """The finding index by its path in the site: the same for the same book. ``date`` is the day the data is from."""
    retired, columns = RetiredIds.read(book.retired), Columns()
    powers: dict[tuple[str, tuple[str, ...]], int] = {}
    used: dict[str, Maker] = {}
    given_up: dict[str, list[list[str]]] = {}
    for key in sorted(book.family_ids()):
        family = book.get_heading(key)
        if family is None:
            continue
        maker = book.makers[family.maker] if family.maker in book.makers else Maker(family.maker, {})
        used[family.maker] = maker
        lines = lines_of(family, maker, retired)
        columns.add(_heading(family, lines, powers))
        for one in (family.id, family.maker):
            if one in retired.given_up_for and one not in given_up:
                given_up[one] = [[line.old_id, line.label, "1" if line.names else ""] for line in _given_up(lines, one)]
    head = {
        "date": date,
        "makers": {key: [maker.name, *maker.also_called] for key, maker in sorted(used.items())},
        "powers": [[printed, *words] for printed, words in powers],
        "given_up": {key: entries for key, entries in given_up.items() if entries},
    }
    shapes, part = [*parts_of(columns, max(1, columns.count)), b""][:2]
    header = json.dumps([head, json.loads(shapes)], ensure_ascii=False, separators=(",", ":")).encode()
    return {INDEX: compressed(struct.pack("<I", len(header)) + header + part)}


def _given_up(lines: list[KnownFact], key: str) -> list[KnownFact]:
    """The lines of old ids retired in favour of a family, which are named, or of a maker, which are not."""
    return [line for line in lines if line.old_id and bool(line.names) == ("/" in key)]


def _heading(family: Heading, lines: list[KnownFact], powers: dict[tuple[str, tuple[str, ...]], int]) -> Document:
    """What is known of a family, each fact once, under short keys, since the browser holds ten thousand."""
    folder, _, own = family.id.rpartition("/")
    short = "" if own == _as_id(family.name) else own
    heading: dict[str, Any] = {"own": short, "name": family.name, "maker": family.maker}
    if folder != family.maker:
        heading["folder"] = folder
    power = power_of(family)
    words = next((tuple(line.words) for line in lines if line.label == power), ()) if power else ()
    heading["power"] = powers.setdefault((power, words), len(powers)) if power else -1
    heading["cylinders"] = str(family.part("engine", "cylinders") or "")
    heading["v"] = family.part("engine", "layout") == "v"
    heading["ignition"] = str(family.part("ignition", "type") or "")
    heading["look_for"] = " ".join(str(family.part("look_for") or "").split())
    heading["called"] = "\n".join(map(str, family.part("also_called") or ()))
    heading["years"] = _ranges(fit.years for fit in family.fits)
    heading["serials"] = _ranges(fit.serials for fit in family.fits)
    return heading


def _ranges(ranges: Iterable[Range | None]) -> str:
    """Ranges as one text: a line for each, once, with a tab between its ends; an open end is empty."""
    return "\n".join(dict.fromkeys(f"{held.first or ''}\t{held.last or ''}" for held in ranges if held))


def _as_id(name: str) -> str:
    """A name in the form of most ids; the browser derives the id from the name where it was left out."""
    return name.lower().replace(" ", "-").replace(".", "-") if name.isascii() and words_of(name) else "\0"
