"""A small book in which every way to ask, and every reason not to answer, has its figure; in memory and compiled."""

from __future__ import annotations

from functools import cache

from kb.book.store.in_memory import MemoryBook
from kb.intake.compiling import book_in_memory
from tests.support.example_book import example_book

_ENGINE = "engine: {cycle: two-stroke, cylinders: 2, firing_order: [1, 2], even_fire: true, power: {hp: 31}}\n"

_GALE = f"""\
name: Gale 31
maker: pellwater
invented: true
fits:
  - {{years: [1976, 1979], serials: {{from: P1000, to: P4999}}}}
{_ENGINE}ignition: {{type: capacitor-discharge}}
figures:
  plug-gap:
    - {{mm: 0.8, source: plate}}
"""

_GALE_LATE = _GALE.replace("1976, 1979", "1980, 1983").replace("P1000", "P5000").replace("P4999", "P8999")

_SQUALL = f"""\
name: Squall 33
maker: pellwater
invented: true
fits:
  - {{years: [1976, 1979], serials: {{from: 1000, to: 4999}}}}
  - {{years: [1981, 1983], serials: {{from: 6000, to: 8999}}}}
{_ENGINE}ignition: {{type: capacitor-discharge, modules: [idle-advance]}}
cautions: [open-flywheel]
figures:
  max-advance:
    - {{btdc: 24, state: cranking, source: handbook, page: 20}}
    - btdc: 22
      state: running
      at: {{rpm: 5000}}
      only: {{serials: {{from: 6000}}}}
      source: leaflet
      page: 2
      supersedes: {{source: handbook, page: 20}}
  cranking-correction:
    - {{cranking_earlier: 3, at: {{rpm: 5000}}, source: manual, page: 8}}
  throttle-pickup:
    - {{tdc: 0, state: cranking, source: handbook, page: 21}}
    - {{atdc: 4, state: running, source: handbook, page: 21}}
    - {{absent: not-applicable, state: static, source: handbook}}
  idle-timing:
    - {{absent: not-stated, source: handbook}}
  breaker-gap:
    - {{absent: not-applicable, source: handbook}}
  idle-speed:
    - {{rpm: [650, 750], at: {{gear: in-gear}}, source: handbook, page: 22}}
    - {{rpm: [800, 900], at: {{gear: neutral}}, source: handbook, page: 22}}
    - {{rpm: [800, 900], at: {{gear: neutral, engine: cold}}, source: manual, page: 9}}
  main-jet:
    - {{code: 68, at: {{altitude: {{m: [0, 900]}}}}, source: handbook, page: 23}}
    - {{code: 66, at: {{altitude: {{m: {{at_least: 900}}}}}}, source: handbook, page: 23}}
  full-throttle-plate:
    - {{deg: 88, source: handbook, page: 24}}
    - {{deg: 84, source: manual, page: 10}}
  plug-gap:
    - {{mm: 0.9, source: handbook, page: 25}}
    - {{mm: 0.7, source: manual, page: 11}}
  trigger-gap:
    - {{mm: 0.8, source: handbook, page: 26}}
    - {{mm: 0.8, source: reprint, page: 26}}
    - {{mm: 0.80, source: manual, page: 12}}
    - {{mm: 1.3, source: recollection}}
  coil-gap:
    - {{mm: [0.2, 0.4], source: handbook, page: 27}}
    - {{mm: [0.3, 0.5], source: manual, page: 13}}
  plug-torque:
    - {{Nm: [18, 22], source: handbook, page: 28}}
  float-level:
    - {{mm: 12, only: {{years: [1976, 1979]}}, source: handbook, page: 29}}
    - {{mm: 14, only: {{years: [1981, 1983]}}, source: handbook, page: 29}}
  fast-idle-speed:
    - {{rpm: 1500, source: handbook, page: 30}}
    - rpm: 1400
      source: leaflet
      page: 3
      supersedes: {{source: handbook, page: 30}}
  throttle-plate-rest:
    - {{mark: fully shut, source: handbook, page: 31}}
    - {{mark: "shut, seen against the light", source: manual, page: 14}}
  flywheel-nut-torque:
    - {{Nm: 90, only: {{serials: {{to: 4999}}}}, source: handbook, page: 32}}
    - {{Nm: 90, only: {{serials: {{from: 6000}}}}, source: manual, page: 15}}
    - {{Nm: 90, only: {{serials: {{from: 6000}}}}, source: bench}}
"""

_BREEZE = f"""\
name: Breeze 9
maker: pellwater
invented: true
{_ENGINE}ignition: {{type: capacitor-discharge}}
figures:
  max-advance:
    - {{btdc: 26, state: running, at: {{rpm: 4800}}, source: handbook, page: 40}}
  idle-timing:
    - {{btdc: 4, state: cranking, source: handbook, page: 41}}
    - {{atdc: 1, state: running, source: leaflet, page: 4, supersedes: {{source: handbook, page: 41}}}}
"""

_CALM = f"""\
name: Calm 15
maker: pellwater
invented: true
{_ENGINE}ignition: {{type: battery-capacitor-discharge}}
figures:
  max-advance:
    - {{btdc: 24, state: cranking, source: handbook, page: 50}}
  cranking-correction:
    - by_rpm: [{{rpm: 1000, cranking_earlier: 1}}, {{rpm: 5000, cranking_earlier: 2}}]
      source: handbook
      page: 50
"""

_LULL = f"""\
name: Lull 4
maker: pellwater
invented: true
{_ENGINE}ignition: {{type: battery-capacitor-discharge}}
figures:
  max-advance:
    - {{btdc: 24, state: cranking, source: handbook, page: 60}}
    - {{btdc: 22, state: running, at: {{rpm: 5000}}, source: handbook, page: 60}}
"""

_GUST = f"""\
name: Gust 12
maker: pellwater
invented: true
{_ENGINE}ignition: {{type: battery-capacitor-discharge}}
figures:
  max-advance:
    - {{btdc: 22, state: running, at: {{rpm: 5000}}, source: handbook, page: 61}}
    - {{btdc: 22, state: running, at: {{rpm: 5000}}, source: manual, page: 21}}
  cranking-correction:
    - {{cranking_later: 1, at: {{rpm: 5000}}, source: handbook, page: 61}}
"""

_FLURRY = f"""\
name: Flurry 8
maker: pellwater
invented: true
{_ENGINE}ignition: {{type: battery-capacitor-discharge}}
figures:
  max-advance:
    - {{btdc: 24, state: cranking, source: handbook, page: 62}}
  cranking-correction:
    - {{cranking_earlier: 2, source: handbook, page: 62}}
    - {{cranking_earlier: 4, source: manual, page: 22}}
  idle-speed:
    - {{rpm: [650, 750], at: {{gear: in-gear}}, source: handbook, page: 62}}
    - {{rpm: [770, 780], at: {{gear: in-gear}}, source: manual, page: 22}}
    - {{rpm: [800, 900], at: {{gear: neutral}}, source: handbook, page: 62}}
    - {{rpm: [910, 990], at: {{gear: neutral}}, source: manual, page: 22}}
"""

_EDDY = f"""\
name: Eddy 5
maker: pellwater
invented: true
{_ENGINE}ignition: {{type: battery-capacitor-discharge}}
figures:
  max-advance:
    - {{btdc: 22, state: running, at: {{rpm: 5000}}, source: handbook, page: 63}}
    - {{btdc: 20, state: running, at: {{rpm: 4000}}, source: handbook, page: 63}}
  cranking-correction:
    - {{cranking_earlier: 2, source: handbook, page: 63}}
  idle-speed:
    - {{rpm: [650, 750], at: {{gear: in-gear}}, source: handbook, page: 64}}
    - {{rpm: [820, 910], at: {{gear: neutral}}, source: handbook, page: 64}}
    - {{rpm: [920, 990], at: {{gear: neutral}}, source: manual, page: 24}}
"""

_MISTRAL = f"""\
name: Mistral 7
maker: pellwater
invented: true
{_ENGINE}ignition: {{type: capacitor-discharge, modules: [idle-advance]}}
figures:
  max-advance:
    - {{btdc: 22, state: running, at: {{module: disconnected}}, source: handbook, page: 60}}
  cranking-correction:
    - {{cranking_earlier: 2, at: {{module: connected}}, source: handbook, page: 60}}
"""

_SIROCCO = f"""\
name: Sirocco 6
maker: pellwater
invented: true
{_ENGINE}ignition: {{type: battery-capacitor-discharge}}
figures:
  max-advance:
    - {{btdc: 22, state: running, at: {{rpm: 4800}}, source: handbook, page: 59}}
  cranking-correction:
    - {{cranking_earlier: 2, at: {{rpm: 5000}}, source: handbook, page: 59}}
"""

_FILES = {
    "families/pellwater/gale.yaml": _GALE,
    "families/pellwater/gale-late.yaml": _GALE_LATE,
    "families/pellwater/squall.yaml": _SQUALL,
    "families/pellwater/breeze.yaml": _BREEZE,
    "families/pellwater/calm.yaml": _CALM,
    "families/pellwater/lull.yaml": _LULL,
    "families/pellwater/gust.yaml": _GUST,
    "families/pellwater/flurry.yaml": _FLURRY,
    "families/pellwater/eddy.yaml": _EDDY,
    "families/pellwater/mistral.yaml": _MISTRAL,
    "families/pellwater/sirocco.yaml": _SIROCCO,
    "retired.yaml": (
        "invented: true\nretired:\n"
        "  - {id: skerrow/example-30, kind: family, to: [skerrow/example], since: 2026-02-01,"
        " because: a misread badge}\n"
        "  - {id: pellwater/lost, kind: family, since: 2026-02-03, because: nobody has seen one}\n"
        "  - {id: points-gap, kind: figure, to: [breaker-gap], since: 2026-01-25, because: one name for one figure}\n"
        "  - {id: handbook-old, kind: source, to: [handbook], since: 2026-01-25, because: two papers were one}\n"
    ),
    "withdrawn.yaml": (
        "invented: true\nwithdrawn:\n"
        "  - statement: {family: skerrow/other, figure: plug-gap, source: reprint, page: 12}\n"
        "    since: 2026-02-01\n    because: a misprint\n    severity: care\n"
        "  - statement: {family: pellwater/squall, figure: plug-torque, source: handbook, page: 28}\n"
        "    since: 2026-09-09\n    because: foot pounds taken for newton metres\n    severity: warning\n"
    ),
}


def asked_files() -> dict[str, bytes]:
    """The book as files by path below its folder."""
    return {**example_book(), **{file: text.encode() for file, text in _FILES.items()}}


@cache
def asked_book() -> MemoryBook:
    """The book in memory."""
    return book_in_memory(asked_files())
