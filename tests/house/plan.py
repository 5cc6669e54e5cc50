"""``python -m tests.house.plan``: the floors of the house as its modules say them, as a table and a picture.

A room says its floor in the docstring of its package or module ("Floor 2."), and the order of its files there too
("Files import downward in this order: ..."). Both are held by ``test_floors.py``; this writes what DEVELOPERS.md shows.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from html import escape
from pathlib import Path
from typing import NamedTuple

from tests.support.folders import ROOT, SITE

KB = ROOT / "kb"
GUIDE = ROOT / "DEVELOPERS.md"
PICTURE = SITE / "pictures" / "house.svg"

_FLOOR = re.compile(r"\bFloor (\d)\.")
_ORDER = re.compile(r"downward in this order: ([^.]*)\.")
_TABLE = re.compile(r"(?<=<!-- floors -->\n).*?(?=<!-- end of floors -->)", re.DOTALL)
_WIDE, _HIGH, _LEFT, _GAP, _LETTER = 1080, 78, 84, 10, 5.8


class Room(NamedTuple):
    """A module or package right below ``kb``: its floor, its purpose in a sentence, the order inside, its files."""

    name: str
    floor: int
    purpose: str
    order: tuple[str, ...]
    modules: int


def docstring(path: Path) -> str:
    """What a module says of itself."""
    return ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""


def order_of(package: Path) -> tuple[str, ...]:
    """The files of a package in the order in which they may import, as its docstring says it; empty where unsaid."""
    found = _ORDER.search(docstring(package / "__init__.py"))
    return tuple(name.strip() for name in found[1].split(",")) if found else ()


def rooms() -> list[Room]:
    """Every room, from the lowest floor up.

    Raises:
        ValueError: a room does not say its floor.
    """
    found = []
    for entry in sorted(KB.iterdir()):
        module = entry / "__init__.py" if entry.is_dir() else entry
        if entry.name == "__init__.py" or not module.exists() or module.suffix != ".py":
            continue
        said = docstring(module)
        floor = _FLOOR.search(said)
        if not floor:
            raise ValueError(f"{module.relative_to(ROOT)} does not say its floor: write “Floor 2.” into its docstring")
        files = [path for path in entry.rglob("*.py") if path.name != "__init__.py"] if entry.is_dir() else [entry]
        order = order_of(entry) if entry.is_dir() else ()
        found.append(Room(entry.stem, int(floor[1]), _purpose(said), order, len(files)))
    return sorted(found, key=lambda room: room.floor)


def _purpose(said: str) -> str:
    return " ".join(said.split("\n\n")[0].split()).rstrip(".")


def table(all_rooms: list[Room]) -> str:
    """The rooms as a Markdown table."""
    lines = ["| floor | room | what lives there | its rooms or files, lowest first |", "| --- | --- | --- | --- |"]
    for room in all_rooms:
        path = f"kb/{room.name}/" if (KB / room.name).is_dir() else f"kb/{room.name}.py"
        inside = ", ".join(f"`{name}`" for name in room.order) or (f"{room.modules} files" if room.modules > 1 else "")
        lines.append(f"| {room.floor} | `{path}` | {room.purpose} | {inside} |")
    return "\n".join(lines) + "\n"


def picture(all_rooms: list[Room]) -> str:
    """The rooms as a house, the lowest floor at the bottom; arrows are left out, since every one points down."""
    floors = sorted({room.floor for room in all_rooms}, reverse=True)
    high = len(floors) * (_HIGH + _GAP) + _GAP
    said = "; ".join(f"floor {floor}: {', '.join(_names(all_rooms, floor))}" for floor in reversed(floors))
    return "\n".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_WIDE} {high}" role="img" '
            'font-family="sans-serif" font-size="12" aria-labelledby="house-title house-desc">',
            '<title id="house-title">The house: what may import what</title>',
            f'<desc id="house-desc">A room imports only from floors below its own. From the ground up, {said}.</desc>',
            f'<rect width="{_WIDE}" height="{high}" fill="#fff"/>',
            *(line for place, floor in enumerate(floors) for line in _floor(all_rooms, floor, place)),
            "</svg>\n",
        ]
    )


def _names(all_rooms: list[Room], floor: int) -> list[str]:
    return [room.name for room in all_rooms if room.floor == floor]


def _floor(all_rooms: list[Room], floor: int, place: int) -> Iterator[str]:
    top = _GAP + place * (_HIGH + _GAP)
    yield f'<text x="12" y="{top + _HIGH / 2 + 4:g}" font-weight="bold">floor {floor}</text>'
    here = [room for room in all_rooms if room.floor == floor]
    wide = (_WIDE - _LEFT - _GAP * len(here)) / len(here)
    for index, room in enumerate(here):
        left = _LEFT + index * (wide + _GAP)
        yield f'<rect x="{left:g}" y="{top}" width="{wide:g}" height="{_HIGH}" fill="#fff8dc" stroke="#333" rx="3"/>'
        count = f" ({room.modules})" if room.modules > 1 else ""
        yield f'<text x="{left + 8:g}" y="{top + 18}" font-weight="bold">{escape(room.name)}{count}</text>'
        for line, words in enumerate(_wrapped(_counted(room), int((wide - 16) / _LETTER))):
            yield f'<text x="{left + 8:g}" y="{top + 35 + 14 * line}" font-size="11">{escape(words)}</text>'


def _counted(room: Room) -> tuple[str, ...]:
    """The names inside a room, its own rooms with how many files each holds."""
    inside = ((name, KB / room.name / name) for name in room.order if name != "__main__")
    return tuple(f"{name} ({len(list(path.rglob('*.py'))) - 1})" if path.is_dir() else name for name, path in inside)


def _wrapped(names: tuple[str, ...], letters: int) -> list[str]:
    """Names, lowest first, on at most three lines."""
    lines = [""]
    for name in names:
        longer = f"{lines[-1]} › {name}" if lines[-1] else name
        if len(longer) <= letters or not lines[-1]:
            lines[-1] = longer
        else:
            lines.append(f"› {name}")
    return lines[:3] if len(lines) <= 3 else [*lines[:2], lines[2][: letters - 2] + " …"]


def guide(text: str, all_rooms: list[Room]) -> str:
    """DEVELOPERS.md with its table of floors made anew."""
    return _TABLE.sub(lambda _: table(all_rooms), text)


if __name__ == "__main__":
    found = rooms()
    PICTURE.write_text(picture(found), encoding="utf-8")
    GUIDE.write_text(guide(GUIDE.read_text(encoding="utf-8"), found), encoding="utf-8")
