"""Planting one slip in the text of a family file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from random import Random
from typing import Any

from kb.finding import Part, Path, Place
from kb.intake.yaml.reader import ReadText, read
from tests.slips.evidence import Redundant
from tests.slips.kinds import KEY_SLIPS, NUMBER_SLIPS, RANGE_SLIPS, SPEED_SLIPS, STATE_SLIPS

_TEXT_SLIPS = {**NUMBER_SLIPS, **KEY_SLIPS, **RANGE_SLIPS, **SPEED_SLIPS, **STATE_SLIPS}
NOT_VALUES = {"at", "only", "supersedes", "readings", "source", "page", "state", "note", "printed_so"}


@dataclass(frozen=True)
class Scalar:
    """One scalar of a redundant statement, on which certain kinds of slip can happen."""

    redundant: Redundant
    path: Path
    part: Part
    kinds: tuple[str, ...]


@dataclass(frozen=True)
class Slipped:
    """What a slip came to: the kind, and the files whose bytes it changed."""

    kind: str
    scalar: Scalar
    files: Mapping[str, bytes]


def scalars(found: list[Redundant]) -> list[Scalar]:
    """Every scalar of the redundant statements, in order."""
    result = []
    for redundant in found:
        statement = redundant.statement
        base: Path = ("figures", statement.figure, statement.index)
        for path, part in _value_scalars(statement.document, base):
            text = str(path[-1])
            if part is Part.VALUE:
                result.append(Scalar(redundant, path, part, tuple(NUMBER_SLIPS)))
            elif kinds := tuple(kind for kind, slip in KEY_SLIPS.items() if slip(text, Random(0))):
                result.append(Scalar(redundant, path, part, kinds))
        windows = _windows(statement.document, base)
        result.extend(Scalar(redundant, path, Part.VALUE, ("ends swapped",)) for path in windows)
        if statement.document.get("state") in ("cranking", "running"):
            result.append(Scalar(redundant, (*base, "state"), Part.VALUE, tuple(STATE_SLIPS)))
        if statement.page:
            result.append(Scalar(redundant, (*base, "page"), Part.VALUE, ("page lost",)))
        result.append(Scalar(redundant, base, Part.VALUE, ("figure in the wrong family",)))
        if "second state" in redundant.evidence and isinstance((statement.document.get("at") or {}).get("rpm"), str):
            result.append(Scalar(redundant, (*base, "at", "rpm"), Part.VALUE, tuple(SPEED_SLIPS)))
        if "range" in redundant.evidence:
            ends = statement.document["only"]["serials"]
            result.extend(
                Scalar(redundant, (*base, "only", "serials", end), Part.VALUE, tuple(RANGE_SLIPS)) for end in ends
            )
            result.extend(
                Scalar(redundant, (*base, key), Part.VALUE, ("key left out",)) for key in ("only", "supersedes")
            )
    return result


def _value_scalars(raw: Any, path: Path) -> Iterator[tuple[Path, Part]]:
    if isinstance(raw, Mapping):
        for key, value in raw.items():
            if key not in NOT_VALUES:
                yield (*path, key), Part.KEY
                if not (isinstance(value, str) and key in ("code", "mark")):
                    yield from _value_scalars(value, (*path, key))
                else:
                    yield (*path, key), Part.VALUE
    elif isinstance(raw, (list, tuple)):
        for index, value in enumerate(raw):
            yield from _value_scalars(value, (*path, index))
    else:
        yield path, Part.VALUE


def _windows(raw: Any, path: Path) -> Iterator[Path]:
    if isinstance(raw, Mapping):
        for key, value in raw.items():
            if key not in NOT_VALUES:
                yield from _windows(value, (*path, key))
    elif isinstance(raw, (list, tuple)) and len(raw) == 2 and raw[0] != raw[1]:
        yield path


def plant(scalar: Scalar, files: Mapping[str, bytes], chance: Random) -> Slipped | None:
    """One slip on a scalar, or nothing where none of its kinds is possible on that text."""
    kind = chance.choice(scalar.kinds)
    file = f"families/{scalar.redundant.family}.yaml"
    reading = read(files[file])
    place = reading.place(scalar.path, scalar.part)
    text = _text_at(reading, place)
    if kind == "figure in the wrong family":
        return _move(scalar, files, chance)
    if kind == "key left out":
        kept = reading.text.split("\n")
        del kept[place.line - 1 : place.end_line]
        return Slipped(kind, scalar, {file: "\n".join(kept).encode()})
    if kind == "page lost":
        lines = reading.text.split("\n")
        line = lines[place.line - 1]
        if line.strip() == f"page: {text}":
            del lines[place.line - 1]
            changed = "\n".join(lines)
        else:
            changed = reading.text.replace(line, line.replace(f", page: {text}", "", 1), 1)
            if changed == reading.text:
                return None
        return Slipped(kind, scalar, {file: changed.encode()})
    if kind == "ends swapped":
        first, _, second = text.strip("[]").partition(", ")
        slipped: str | None = f"[{second}, {first}]"
    else:
        slip = _TEXT_SLIPS[kind]
        slipped = slip(text, chance)
    if slipped is None or slipped == text:
        return None
    return Slipped(kind, scalar, {file: _replaced(reading, place, slipped).encode()})


def _move(scalar: Scalar, files: Mapping[str, bytes], chance: Random) -> Slipped | None:
    """The statement goes from its file into that of another family of the maker, behind what stands there."""
    statement = scalar.redundant.statement
    here = f"families/{scalar.redundant.family}.yaml"
    maker = scalar.redundant.family.split("/")[0]
    others = [file for file in sorted(files) if file.startswith(f"families/{maker}/") and file != here]
    there = chance.choice(others)
    reading = read(files[here])
    place = reading.place(("figures", statement.figure, statement.index), Part.VALUE)
    lines = reading.text.split("\n")
    block = lines[place.line - 1 : place.end_line]
    siblings = len(reading.data["figures"][statement.figure])
    rest = lines[: place.line - 1 - (siblings == 1)] + lines[place.end_line :]
    target = read(files[there])
    into = target.text.split("\n")
    if statement.figure in target.data["figures"]:
        last = len(target.data["figures"][statement.figure]) - 1
        at = target.place(("figures", statement.figure, last), Part.VALUE).end_line
        into[at:at] = block
    else:
        at = target.place(("figures",), Part.VALUE).end_line
        into[at:at] = [f"  {statement.figure}:", *block]
    changed = {here: "\n".join(rest).encode(), there: "\n".join(into).encode()}
    return Slipped("figure in the wrong family", scalar, changed)


def _text_at(reading: ReadText, place: Place) -> str:
    lines = reading.text.split("\n")[place.line - 1 : place.end_line]
    lines[-1] = lines[-1][: place.end_column - 1]
    lines[0] = lines[0][place.column - 1 :]
    return "\n".join(lines)


def _replaced(reading: ReadText, place: Place, text: str) -> str:
    lines = reading.text.split("\n")
    before, after = lines[place.line - 1][: place.column - 1], lines[place.end_line - 1][place.end_column - 1 :]
    return "\n".join([*lines[: place.line - 1], before + text + after, *lines[place.end_line :]])
