"""Files are UTF-8, the one encoding that every editor and computer agrees on. Bytes in an older encoding are read as
what they most likely mean, so that the rest of the file is still checked."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Name the first such byte, where it is, and the letter it most likely was."""
    letter, offset, count = fault.expected
    more = f", and {int(count) - 1} more after it" if count != "1" else ""
    what = f"byte {fault.found} at offset {offset} is not UTF-8; most likely {letter!r} in an older encoding{more}"
    do = "save the file as UTF-8: editors offer it under Save with encoding"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a file that is not UTF-8",
    why="another computer would show other letters, and a search would not find them",
    bad=(
        Bad(b"name: Br\xfccke 31\nmaker: skerrow\n", where="ü"),
        Bad(b"name: Example 31\nlook_for: plate reads 31 \x96 see below\n", where="–"),
        Bad(b"# pr\xe9lev\xe9 sur la plaque\nname: Example 31\n", where="é"),
        Bad(b"name: Example 31\nlook_for: 5\xb0 mark\n", where="°"),
    ),
    good=(Good("look_for: plaque émaillée, 5° mark\n"), Good("name: Brücke 31\n")),
    check=check,
)
