"""Old faults put back, one by one, in a copy of the scripts: the walks that find each."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

from tests.support.folders import ASSETS
from tests.walk.walks import Asked

KETCH, LATE = "skerrow/ketch-47", "skerrow/ketch-47-late"


@dataclass(frozen=True)
class Fault:
    """A fault: what it does, the text of a script that is replaced, and the walk that shows it."""

    does: str
    script: str
    was: str
    now: str
    asked: Asked


FAULTS = (
    Fault(
        "the pointer is moved, and what it showed before is counted too",
        "job/log/pointer-history.js",
        'if (entry.answer === "moved") return { ...UNREAD, ...said, stands: Pointer.MOVED };',
        'if (entry.answer === "moved") return { ...state, stands: Pointer.STAYS, entry: entry.id };',
        Asked(4, KETCH),
    ),
    Fault(
        "a maximum read early is taken for done, and the gate before the plugs lets it pass",
        "job/dangers.js",
        "if (wrong) return danger(wrong.words, { onEnd: true });",
        "",
        Asked(12, KETCH, "leaves-it"),
    ),
    Fault(
        "the side stands on before, as if it had been chosen",
        "job/reading/number-pad.js",
        "SIDE_CHOICES, typed.side, choose",
        'SIDE_CHOICES, (typed.side ||= "btdc"), choose',
        Asked(1, KETCH),
    ),
    Fault(
        "which of the twins it is is not asked",
        "job/log/record.js",
        "    which: null,",
        '    which: { answer: "stamp", serial: "", year: "", entry: "" },',
        Asked(1, LATE, "wrong-twin"),
    ),
    Fault(
        "the dead-centre reading is reckoned to the wrong side",
        "book/aim.js",
        "  const pointer = deadCentre ?? ZERO;\n  requireNearCentre(pointer);",
        "  const pointer = (deadCentre ?? ZERO).negative();\n  requireNearCentre(pointer);",
        Asked(3, KETCH),
    ),
)


def put_back(fault: Fault, folder: Path) -> Path:
    """A copy of the scripts with the fault in it."""
    copy = folder / "assets"
    shutil.copytree(ASSETS, copy)
    script = copy / fault.script
    text = script.read_text(encoding="utf-8")
    assert text.count(fault.was) == 1, f"{fault.script} no longer says {fault.was!r}"
    script.write_text(text.replace(fault.was, fault.now), encoding="utf-8")
    return copy
