"""A seeded book of any size: families of some 4 kB, spread over forty invented makers and their sources, and sound.

The catalogue, the cautions and the routines are those of the demonstration book.
"""

from __future__ import annotations

import random
import shutil
from collections.abc import Iterator
from decimal import ROUND_HALF_EVEN, Decimal
from pathlib import Path

from tests.support.folders import FROZEN

MAKERS = 40
SERIES = 3  # each maker prints a handbook and a table for each of so many series

_KINDS = (
    ("single", 1, "[1]", "capacitor-discharge"),
    ("in-line", 2, "[1, 2]", "capacitor-discharge"),
    ("in-line", 3, "[1, 3, 2]", "battery-capacitor-discharge"),
    ("in-line", 4, "[1, 3, 2, 4]", "capacitor-discharge"),
    ("v", 6, "[1, 2, 3, 4, 5, 6]", "transistor"),
)
_READ = "[{by: mk, on: 2026-03-02}, {by: ro, on: 2026-04-11, blind: true}]"


def write_book(folder: Path, families: int, seed: int = 1) -> None:
    """Write a book of so many families into a folder that is not there yet."""
    folder.mkdir(parents=True)
    for name in ("catalogue", "cautions", "routines"):
        shutil.copytree(FROZEN / name, folder / name)
    chance = random.Random(seed)
    for number in range(MAKERS):
        maker = maker_id(number)
        _write(folder / f"makers/{maker}.yaml", f"name: Maker {number + 1:02}\ninvented: true\n")
        for series in range(SERIES):
            for source, text in _sources(maker, series):
                _write(folder / f"sources/{source}.yaml", text)
    for number in range(families):
        maker = maker_id(number % MAKERS)
        text = family_text(maker, number, chance)
        _write(folder / f"families/{maker}/{family_name(number)}.yaml", text)


def maker_id(number: int) -> str:
    """The id of a maker by its number from 0."""
    return f"maker-{number + 1:02}"


def family_name(number: int) -> str:
    """The last part of a family's id by its number from 0."""
    return f"model-{number:05}"


def _write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def _sources(maker: str, series: int) -> Iterator[tuple[str, str]]:
    for kind, name in (("handbook", "handbook"), ("workshop-manual", "tables")):
        title = f"{name.capitalize()} of {maker}, series {series + 1}"
        yield (
            f"{maker}-{name}-{series + 1}",
            f"kind: {kind}\ntitle: {title}\nmaker: {maker}\nedition: second\nyear: {1970 + series * 4}\n"
            f"publisher: Works of {maker}\npages: 480\nseen: paper\ninvented: true\n",
        )


def _statements(figure: str, *values: str, sources: tuple[str, str], page: int) -> str:
    """One figure: each value from both sources."""
    lines = [f"  {figure}:"]
    for offset, value in enumerate(values):
        for source in sources:
            lines.append(f"    - {value.replace('; ', chr(10) + '      ')}")
            lines.append(f"      source: {source}")
            lines.append(f"      page: {page + offset}")
    return "\n".join(lines)


def _times(value: str, factor: str, places: str) -> str:
    """A converted value, rounded as a page would print it."""
    return str((Decimal(value) * Decimal(factor)).quantize(Decimal(places), ROUND_HALF_EVEN))


def family_text(maker: str, number: int, chance: random.Random) -> str:
    """One family's file; the numbers differ from family to family within what is plausible."""
    layout, cylinders, order, ignition = _KINDS[number % len(_KINDS)]
    series = number // MAKERS % SERIES
    sources = (f"{maker}-handbook-{series + 1}", f"{maker}-tables-{series + 1}")
    page = 20 + number // MAKERS % 400
    serial = 100_000 + number // MAKERS * 1_000
    power = cylinders * (8 + number % 7)
    late = chance.randrange(19, 25)
    pickup, idle = chance.randrange(1, 4), chance.randrange(6, 9)
    gap = f"0.0{chance.randrange(26, 34)}"
    plug = f"0.0{chance.randrange(34, 42)}"
    torque = chance.randrange(90, 110)
    slow, fast = chance.randrange(600, 680, 10), chance.randrange(4800, 5200, 50)
    jet = chance.randrange(120, 150)
    running = f"btdc: {late - 2}; state: running; at: {{rpm: 5000}}; readings: {_READ}"
    figures = "\n".join(
        _statements(figure, *values, sources=sources, page=page)
        for figure, values in {
            "idle-timing": (f"atdc: [{idle}, {idle + 2}]; state: cranking",),
            "throttle-pickup": (f"atdc: [{pickup}, {pickup + 2}]; state: cranking",),
            "max-advance": (f"btdc: {late}; state: cranking; readings: {_READ}", running),
            "cranking-correction": (f"cranking_earlier: 2; at: {{rpm: 5000}}; readings: {_READ}",),
            "trigger-gap": (f"in: {gap}; also: {{mm: {_times(gap, '25.4', '0.01')}}}",),
            "idle-speed": (
                f"rpm: [{slow}, {slow + 50}]; at: {{gear: in-gear}}",
                f"rpm: [{slow + 100}, {slow + 150}]; at: {{gear: neutral}}",
            ),
            "full-throttle-speed": (f"rpm: [{fast}, {fast + 500}]",),
            "plug-type": (f"code: KX {number % 70 + 10}-{cylinders}; readings: {_READ}",),
            "plug-gap": (f"in: {plug}; also: {{mm: {_times(plug, '25.4', '0.01')}}}",),
            "main-jet": (f"code: {jet}; readings: {_READ}",),
            "flywheel-nut-torque": (
                f"lbf_ft: {torque}; also: {{Nm: {_times(str(torque), '1.3558179483', '1')}}}; readings: {_READ}",
            ),
            "premix": (f"to_one: 50; readings: {_READ}",),
        }.items()
    )
    return f"""\
# yaml-language-server: $schema=../../../schema/family.json
name: Model {number:05}
maker: {maker}
invented: true
look_for: M{number:05} stamped below the coil
fits:
  - years: [{1970 + series * 4}, {1973 + series * 4}]
    serials: {{from: {serial}, to: {serial + 999}}}
engine:
  cycle: two-stroke
  cylinders: {cylinders}
  layout: {layout}
  firing_order: {order}
  even_fire: true
  power: {{hp: {power}}}
  carburettors: {max(1, cylinders // 2)}
  bore: {{mm: {60 + number % 18}}}
  stroke: {{mm: {54 + number % 14}}}
  rod: {{mm: {112 + number % 14}}}
ignition:
  type: {ignition}
linkage: cam-touches-at-idle
flywheel:
  rotation: clockwise
  rim_diameter: {{mm: {220 + number % 60}}}
  marks_on: flywheel
  numbered_marks: {{btdc: [10, 20, 30], atdc: [10]}}
  division: {{deg: 1}}
adjusters:
  max-advance: {{part: upper stop screw on the spark lever, turning_in: later, pitch: {{mm: 1.0}}, locknut: true}}
figures:
{figures}
cautions: [open-flywheel, too-much-advance]
"""


def spoil(text: str, chance: random.Random) -> str:
    """The same file with one slip in it, of a kind that people make."""
    slips = (
        ("atdc: [", "atdc: [30, "),  # a third number
        ("state: running", "state: static"),
        ("      page: ", "      pge: "),
        ("rpm: [6", "rpm: [96"),
        ("-handbook-", "-hanbook-"),
        ("  idle-timing:", "  idle-timming:"),
        ("state: cranking", "state: crankin"),
        ("btdc: 2", "atdc: 2"),
        ("in: 0.0", "in: 0.00"),
        ("cylinders: ", "cylinders: 1"),
        ("cautions: [open-flywheel", "cautions: [open-flywheels"),
        ("lbf_ft: 1", "lbf_ft: 01"),
        ("also: {mm: 0.", "also: {mm: 1."),
        ("years: [1970", "years: [1990"),
        ("to_one: 50", "to_one: 5O"),
        ("name: Model", "name: [Model"),
    )
    usable = [slip for slip in slips if slip[0] in text]
    old, new = chance.choice(usable)
    return text.replace(old, new, 1)
