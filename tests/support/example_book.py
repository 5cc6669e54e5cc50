"""A small sound book on which the rules' examples are laid, and the laying of them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from kb.intake.rules import FAMILY, Bad, Good
from tests.support.folders import FROZEN

_FAMILY = """\
name: Example 31
maker: skerrow
invented: true
look_for: E31 stamped below the coil
fits:
  - years: [1978, 1981]
    serials: {from: 300100, to: 418999}
engine:
  cycle: two-stroke
  cylinders: 3
  layout: in-line
  firing_order: [1, 3, 2]
  even_fire: true
  power: {hp: 31}
  carburettors: 3
  bore: {mm: 61}
  stroke: {mm: 58}
  rod: {mm: 108}
ignition:
  type: capacitor-discharge
  modules: [idle-advance]
linkage: cam-touches-at-idle
flywheel:
  rotation: clockwise
  rim_diameter: {mm: 230}
  marks_on: flywheel
  numbered_marks: {btdc: [9, 18, 27]}
  division: {deg: 1}
adjusters:
  max-advance: {part: upper stop screw, turning_in: later, pitch: {mm: 1.0}, locknut: true}
figures:
  throttle-pickup:
    - atdc: [4, 6]
      state: cranking
      source: handbook
      page: 41
  max-advance:
    - btdc: 24
      state: cranking
      source: handbook
      page: 42
      readings: [{by: mk, on: 2026-03-02}, {by: ro, on: 2026-04-11, blind: true}]
    - btdc: 24
      state: cranking
      source: manual
      page: 7-3
    - btdc: 22
      state: running
      at: {rpm: 5000}
      source: handbook
      page: 42
      readings: [{by: mk, on: 2026-03-02}, {by: ro, on: 2026-04-11, blind: true}]
    - btdc: 22
      state: running
      at: {rpm: 5000}
      source: manual
      page: 7-3
  cranking-correction:
    - cranking_earlier: 2
      at: {rpm: 5000}
      source: handbook
      page: 42
      readings: [{by: mk, on: 2026-03-02}, {by: ro, on: 2026-04-11, blind: true}]
    - cranking_earlier: 2
      at: {rpm: 5000}
      source: manual
      page: 7-3
  trigger-gap:
    - in: 0.030
      also: {mm: 0.76}
      source: handbook
      page: 38
  idle-timing:
    - absent: not-stated
      source: handbook
  idle-speed:
    - rpm: [650, 750]
      state: running
      at: {gear: in-gear}
      source: handbook
      page: 43
    - rpm: [800, 900]
      state: running
      at: {gear: neutral}
      source: manual
      page: 7-4
  plug-gap:
    - mm: 0.9
      source: plate
cautions: [too-much-advance]
"""

_OTHER = """\
name: Other 17
maker: skerrow
invented: true
fits:
  - years: [1970, 1975]
    serials: {from: 100100, to: 199999}
engine: {cycle: two-stroke, cylinders: 2, firing_order: [1, 2], even_fire: true, power: {hp: 17}}
ignition: {type: breaker-magneto}
figures:
  breaker-gap:
    - mm: 0.35
      source: leaflet
      page: 2
  plug-gap:
    - mm: 0.7
      source: reprint
      page: 12
    - mm: 0.7
      source: bench
  cranking-speed:
    - rpm: [250, 400]
      source: recollection
      note: for want of better
    - rpm: [250, 400]
      source: bench
  plug-torque:
    - Nm: [18, 22]
      source: custom
    - Nm: [18, 22]
      source: list
      page: 3
"""

_SOURCES = {
    "handbook": "kind: handbook\ntitle: Example handbook\npages: 64\nyear: 1979\nseen: paper\n",
    "manual": "kind: workshop-manual\ntitle: Example workshop manual\nyear: 1981\nseen: scan\n",
    "leaflet": "kind: bulletin\ntitle: Example bulletin\nyear: 1980\nseen: paper\n",
    "list": "kind: parts-list\ntitle: Example parts list\nseen: paper\n",
    "plate": "kind: plate\ntitle: Plate on the engine\nseen: on-the-engine\n",
    "bench": "kind: bench-measurement\ntitle: Measured in the shed\nseen: on-the-engine\n",
    "custom": "kind: common-practice\ntitle: Common practice\nseen: told\n",
    "recollection": "kind: memory\ntitle: Told at the slip\nseen: told\n",
    "reprint": "kind: handbook\ntitle: Example handbook, reprinted\nreprint_of: handbook\nseen: scan\n",
}

_FIXED = {
    FAMILY: _FAMILY,
    "families/skerrow/other.yaml": _OTHER,
    "makers/skerrow.yaml": "name: Skerrow\ninvented: true\n",
    "makers/pellwater.yaml": "name: Pellwater\ninvented: true\n",
    "reports/skerrow/example/2026-05-12-slip.yaml": (
        "invented: true\nby: mk\non: 2026-05-12\nengine: {serial: 301455}\n"
        "as_found:\n  max-advance:\n    - {btdc: 27, state: cranking}\n"
        "as_left:\n  max-advance:\n    - {btdc: 24, state: cranking}\nran: clean pick-up\n"
    ),
    "routines/example.yaml": (
        "name: Example\nlinkage: cam-touches-at-idle\nsteps:\n"
        "  - {id: dead-centre, do: Find true top dead centre., cautions: [open-flywheel]}\n"
        "  - {id: before-cranking, do: Go round the engine., gate: [{tick: all plugs out}]}\n"
        "  - {id: pickup, do: Set the pickup., figure: throttle-pickup, records: [as-found, as-left]}\n"
        "  - {id: maximum, do: Set the maximum., figure: max-advance, records: [as-left], makes_stale: [pickup]}\n"
    ),
    "retired.yaml": (
        "invented: true\nretired:\n  - {id: skerrow/example-30, kind: family, to: [skerrow/example], "
        "since: 2026-02-01, because: a misread badge}\n"
    ),
    "withdrawn.yaml": (
        "invented: true\nwithdrawn:\n"
        "  - statement: {family: skerrow/other, figure: plug-gap, source: reprint, page: 12}\n"
        "    since: 2026-02-01\n    because: a misprint\n    severity: care\n"
    ),
}


@cache
def example_book() -> Mapping[str, bytes]:
    """The sound book: the real catalogue and cautions with a few small files beside them."""
    files = {
        file.relative_to(FROZEN).as_posix(): file.read_bytes()
        for folder in ("catalogue", "cautions")
        for file in sorted((FROZEN / folder).glob("*.yaml"))
    }
    files.update({file: text.encode() for file, text in _FIXED.items()})
    files.update({f"sources/{name}.yaml": f"invented: true\n{text}".encode() for name, text in _SOURCES.items()})
    return files


def lay(example: Bad | Good) -> dict[str, bytes]:
    """The book with an example laid over it."""
    files = dict(example_book())
    for file, text in example.beside.items():
        files[file] = _over(files.get(file, b"").decode(), text).encode()
    if isinstance(example.text, bytes):
        files[example.file] = example.text
    elif example.whole:
        files[example.file] = example.text.lstrip("\n").encode()
    else:
        files[example.file] = _over(files.get(example.file, b"").decode(), example.text).encode()
    return files


def _blocks(text: str, indent: str) -> dict[str, str]:
    """The blocks of a text, by the key that opens each at that indentation."""
    blocks: dict[str, str] = {}
    key = ""
    for line in text.strip("\n").splitlines(keepends=True):
        if match := re.match(rf"{indent}([^\s#:-][^:\n]*):(?=\s|$)", line):
            key = match[1]
            while key in blocks:  # an example may repeat a key on purpose
                key += "'"
        blocks[key] = blocks.get(key, "") + (line if line.endswith("\n") else line + "\n")
    return blocks


def _over(base: str, text: str) -> str:
    """Lay each top-level block, and within ``figures`` each figure, over the one of that name."""
    under, over = _blocks(base, ""), _blocks(text, "")
    for key, block in over.items():
        if key == "figures" and key in under and "\n" in block.strip("\n"):
            body = _blocks(under[key].split("\n", 1)[1], "  ")
            body.update(_blocks(block.split("\n", 1)[1], "  "))
            under[key] = "figures:\n" + "".join(body.values())
        else:
            under[key] = block
    return "".join(under.values())
