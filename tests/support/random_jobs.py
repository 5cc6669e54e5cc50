"""Made-up jobs, as a mechanic's fingers and a bad day would note them; and Node that folds, keeps and reports them."""

from __future__ import annotations

import json
import random
import uuid
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any

from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from kb.vocabulary.work import FalseLate
from tests.support.folders import ASSETS
from tests.support.frozen import frozen_book
from tests.support.node import run_node

Entry = dict[str, Any]

HOSTILE = [
    "screw: had lost its # nut",
    "- first\n- second",
    'he said "tight", \\ it was not',
    "yes",
    "~",
    "1:30",
    "010",
    "{flow: [1, 2]}",
    "\u202eright to left\u202c",
    "\u05de\u05e0\u05d5\u05e2 \u05e7\u05e8",
    "\U0001f6e5 afloat",
    " ends in blanks  ",
    "# all of it",
    "a\u2028b\u0085c",
    "& * ! | > ' % @ `",
    "tab\there\r\nand there",
    "2026-03-02",
    "key: value\n---\nother: document",
    "\ufeffmark",
    "nul \u0000 bell \u0007",
    "half \ud83d of a letter",
    "%TAG ! x",
    "<<",
    "=",
    "null",
    "it's so",
    "\u00a0no-break\u3000wide",
    "<script>alert(1)</script>",
    "x" * 600,
    "?",
    "... ",
    "0x1F",
    "false",
    "True",
    "No",
    "off",
    "NaN",
    "Infinity",
    "arrow, the upper one",
    "\U000e0041 tagged",
]
FIRST = datetime(2026, 3, 2, 8, tzinfo=UTC)
KINDS = [
    "engine",
    "done",
    "done",
    "opened",
    "tick",
    "tick",
    "reading",
    "reading",
    "reading",
    "turn",
    "dead-centre",
    "pointer",
    "which",
    "override",
    "false-late",
    "correction",
    "note",
    "ran",
    "close",
    "take-back",
]


@cache
def shared() -> dict[str, Any]:
    """The shared document, as it is published."""
    return dict(json.loads(json.dumps(shared_document(frozen_book()))))


@cache
def page(family: str) -> dict[str, Any]:
    """A family's page, as it is published."""
    return dict(json.loads(json.dumps(family_page(frozen_book(), family))))


def in_node(**asked: Any) -> dict[str, Any]:
    """What the browser's modules make of it; see tests/site/job_records.mjs."""
    done = run_node("job_records.mjs", ASSETS, given=json.dumps({"shared": shared(), **asked}))
    assert done.returncode == 0, done.stderr
    return dict(json.loads(done.stdout))


class Bench:
    """Entries of one job; times go on, now and then two at once."""

    gaps: tuple[int, ...] = (0, 1, 700, 90_000)

    def __init__(self, rng: random.Random, family: str = "skerrow/ketch-47") -> None:
        self.rng, self.family, self.time = rng, family, FIRST
        self.job, self.entries = self.id(), list[Entry]()

    def id(self) -> str:
        """An id that no other entry has."""
        return str(uuid.UUID(int=self.rng.getrandbits(128), version=4))

    def add(self, kind: str, **said: Any) -> Entry:
        """One entry more."""
        self.time += timedelta(milliseconds=self.rng.choice(self.gaps))
        at = self.time.strftime("%Y-%m-%dT%H:%M:%S.") + f"{self.time.microsecond // 1000:03d}Z"
        entry = {"id": self.id(), "job": self.job, "at": at, "kind": kind, **said}
        self.entries.append(entry)
        return entry

    def begin(self) -> Entry:
        """The first entry, of an engine that the family fits."""
        told = page(self.family)
        fits: dict[str, Any] = next(iter(told["fits"]), {})
        serials, years = fits.get("serials", {}), fits.get("years", "")
        year = years[0] if isinstance(years, list) else years if isinstance(years, str) else years.get("from", "")
        serial = serials.get("from") or serials.get("to") or ""
        return self.add(
            "begin",
            family=self.family,
            name=told["name"],
            maker=told["maker"],
            invented=told["invented"],
            data_of=shared()["date"],
            routine=told["routine"],
            serial=serial,
            year=year,
            state="",
            margin="1",
        )

    def reading(self, **more: Any) -> Entry:
        """A reading of a random figure, in a unit, a state and under conditions that the catalogue allows."""
        rng = self.rng
        figure, kind = rng.choice(list(shared()["figures"].items()))
        said: dict[str, Any] = {"state": rng.choice(kind["states"])}
        may = kind.get("at", ())
        usual = {"gear": "in-gear", "module": "disconnected", "engine": "warm"}
        at = {key: value for key, value in usual.items() if key in may and rng.random() < 0.3}
        if at:
            said["conditions"] = at
        if "cylinder" in may and rng.random() < 0.5:
            said["cylinder"] = rng.choice(("1", "2"))
        value = random_value(rng, rng.choice(kind["units"]))
        when = rng.choice(("found", "left"))
        return self.add("reading", step="maximum", figure=figure, when=when, value=value, **said, **more)

    def anything(self) -> None:
        """One entry of any kind."""
        rng, kinds = self.rng, shared()["figures"]
        kind, step = rng.choice(KINDS), rng.choice(("plugs", "before-cranking", "maximum", "pickup"))
        degrees = str(rng.randrange(-30, 31)) + rng.choice(("", ".5"))
        if kind == "reading":
            earlier = [one["id"] for one in self.entries if one["kind"] == "reading"]
            self.reading(**({"replaces": rng.choice(earlier)} if earlier and rng.random() < 0.4 else {}))
            return
        said: dict[str, dict[str, Any]] = {
            "engine": rng.choice(({"serial": "361204"}, {"year": ""}, {"by": "mk", "margin": "0.5"})),
            "done": {"step": step, **({"stood": True} if rng.random() < 0.2 else {})},
            "opened": {"step": step},
            "tick": {"step": step, "tick": rng.choice(("every plug out", "fuel shut off")), "on": rng.random() < 0.7},
            "turn": {"figure": rng.choice(list(kinds)), "turns": rng.choice(("0", "1 1/2", "-1/4")), "reads": degrees},
            "dead-centre": {"reads": rng.choice((None, degrees)), "stops": ["30", "-28"]},
            "pointer": {"answer": rng.choice(("moved", "stays"))},
            "which": {"answer": "stamp", "serial": "PS12000", "year": ""},  # of an engine not told there is no report
            "false-late": {"cause": rng.choice(FalseLate.words), "ruled_out": rng.random() < 0.6},
            "override": {"figure": rng.choice(list(kinds)), "danger": rng.choice(HOSTILE), "text": "he wants it so"},
            "correction": {"cranking": degrees, "running": "21", "rpm": rng.choice(("", "5000"))},
            "note": {"text": rng.choice(HOSTILE), "step": rng.choice(("", step))},
            "ran": {"text": rng.choice(HOSTILE)},
            "close": {},
            "take-back": {"entry": rng.choice(self.entries)["id"]},
        }
        if kind == "turn" and rng.random() < 0.2:
            said["turn"] = {"figure": said["turn"]["figure"], "forget": True}
        self.add(kind, **said[kind])


class Told(Bench):
    """A job told entry by entry."""

    gaps = (1000,)

    def __init__(self, family: str = "skerrow/ketch-47") -> None:
        super().__init__(random.Random(1), family)
        self.begin()

    def read(self, degrees: str, when: str = "found", **more: Any) -> str:
        """A maximum read while cranking; the reading's id."""
        said = {"step": "maximum", "figure": "max-advance", "state": "cranking", "value": {"btdc": degrees}, **more}
        return str(self.add("reading", when=when, **said)["id"])

    def back(self, entry: str) -> str:
        """An entry taken back; the id of that."""
        return str(self.add("take-back", entry=entry)["id"])


def random_value(rng: random.Random, unit: str) -> dict[str, Any]:
    """Something read in a unit."""
    if unit in ("mark", "code"):
        return {unit: rng.choice(HOSTILE)}
    if unit == "tdc":
        return {"tdc": "0"}
    if unit.startswith("cranking") or unit == "by_rpm":
        return {"cranking_later": "1.5"}
    number = str(rng.randrange(1, 40))
    if unit in ("in", "turns"):
        return {unit: rng.choice((f"{number}/64", "0.030", "1 1/4"))}
    if unit == "btdc" and rng.random() < 0.3:
        return rng.choice(({"btdc": {"in": "0.104"}}, {"from": {"btdc": "2"}, "to": {"atdc": number}}))
    return {unit: rng.choice((number, f"{number}.5", [number, f"{number}.5"]))}


def random_job(seed: int, length: int, family: str = "skerrow/ketch-47") -> list[Entry]:
    """A job of random entries in the order they were made."""
    bench = Bench(random.Random(seed), family)
    bench.begin()
    for _ in range(length):
        bench.anything()
    return bench.entries
