"""A line cannot be read as YAML, for a reason that has no rule of its own."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault

_OTHERWISE = "compare the line with a similar one in another file of the book"
_WORDS = {
    "colon": ("there is no colon in {found}", "write a key, a colon, a space and the value, such as maker: skerrow"),
    "escape": ("{found} is not an escape that YAML knows", "write the backslash twice, or use single quotes"),
    "list": ("a list begins on the line of its key", "put each entry on a line of its own below the key, after a -"),
    "entry": (
        "{found} is an entry of a list where a key should be",
        "indent it below the key that it belongs to, or delete the hyphen",
    ),
    "key": ("there is no key before the colon in {found}", "write the key, or delete the colon"),
    "long-key": ("this key is longer than YAML allows", "write one short word before the colon"),
    "header": ("after {found[0]} text can only begin on the next line", "put the text in quotes"),
    "comma": ("there is no entry before this comma", "delete the comma, or write the entry that is missing"),
    "after-bracket": ("{found} follows the bracket that ends the value", "delete it, or put all of it in quotes"),
}


def check(fault: Fault) -> Iterator[Slip]:
    """Say what is wrong and what to type."""
    kind, problem = fault.expected
    what, do = _WORDS.get(kind, (f"this cannot be read as YAML: {problem}", _OTHERWISE))
    yield Slip(fault.path, what.format(found=fault.found), do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="something that cannot be read as YAML",
    why="what cannot be read is missing from every answer",
    bad=(
        Bad("name: Example 31\nmaker skerrow\ninvented: true\n", where="maker skerrow", whole=True),
        Bad('look_for: "E31 \\q below the coil"\n', where="\\q"),
        Bad("fits: - years: 1978\n", where="- years: 1978"),
        Bad("look_for: >5 below the coil\n", where=">5 below the coil"),
        Bad("engine: {cycle: two-stroke,, cylinders: 3}\n", where=","),
        Bad("cautions: [too-much-advance] and more\n", where="and more"),
        Bad("name: Example 31\n- maker: skerrow\n", where="- maker: skerrow", whole=True),
        Bad("name: Example 31\n: skerrow\n", where=": skerrow", whole=True),
        Bad("name: Example 31\n" + "x" * 1_030 + ": E31\n", where="x" * 1_030, whole=True),
    ),
    good=(
        Good("look_for: |\n  E31 below the coil\n"),
        Good('look_for: "E31 \\x41 below the coil"\n'),
        Good("fits:\n  - years: 1978\n    serials: {from: 300100, to: 418999}\n"),
    ),
    check=check,
)
