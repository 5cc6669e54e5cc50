"""What the editor's server must offer, say and mark: by the cursor's place in a text, as exact lists."""

from __future__ import annotations

from tests.support.schema_files import catalogue

FIGURES = sorted(catalogue(), key=lambda figure: (catalogue()[figure].job_order, figure))
STATED = ["source", "page", "supersedes", "readings", "absent", "note"]

HEAD = "name: Ketch 47\nmaker: skerrow\n"
MAX = HEAD + "figures:\n  max-advance:\n"

POSITIONS = {
    "keys of a family": (
        "family",
        HEAD + "|\n",
        [
            "invented",
            "look_for",
            "also_called",
            "fits",
            "engine",
            "ignition",
            "linkage",
            "flywheel",
            "adjusters",
            "figures",
            "cautions",
            "exceptions",
        ],
    ),
    "figures": ("family", HEAD + "figures:\n  |\n", FIGURES),
    "figures not yet there": (
        "family",
        MAX + "    - btdc: 24\n  |\n",
        [name for name in FIGURES if name != "max-advance"],
    ),
    "one more statement": ("family", MAX + "    - btdc: 24\n    |\n", ["- (array item) max-advance"]),
    "keys and units of max-advance": (
        "family",
        MAX + "    - |\n",
        ["btdc", "atdc", "tdc", "from", "to", "also", "state", "at", "only", *STATED],
    ),
    "keys and units of plug-gap": (
        "family",
        HEAD + "figures:\n  plug-gap:\n    - |\n",
        ["mm", "in", "also", "state", "at", "only", *STATED],
    ),
    "keys of premix, which has one unit": (
        "family",
        HEAD + "figures:\n  premix:\n    - |\n",
        ["to_one", "state", "at", "only", *STATED],
    ),
    "states of max-advance": ("family", MAX + "    - btdc: 24\n      state: |\n", ["cranking", "running", "static"]),
    "states of idle-speed": ("family", HEAD + "figures:\n  idle-speed:\n    - state: |\n", ["running"]),
    "conditions of max-advance": (
        "family",
        MAX + "    - at:\n        |\n",
        ["rpm", "gear", "cylinder", "bank", "module"],
    ),
    "gears": ("family", MAX + "    - at:\n        gear: |\n", ["in-gear", "neutral"]),
    "second units of plug-gap": (
        "family",
        HEAD + "figures:\n  plug-gap:\n    - in: 0.040\n      also:\n        |\n",
        ["mm", "in", "printed_so"],
    ),
    "under an angle": (
        "family",
        MAX + "    - btdc:\n        |\n",
        ["at_least", "at_most", "nominal", "plus_minus", "plus", "minus", "mm", "in"],
    ),
    "behind an angle: no number": ("family", MAX + "    - btdc: |\n", []),
    "ends of a straddling window": ("family", MAX + "    - from:\n        |\n", ["btdc", "atdc", "tdc"]),
    "absent": ("family", HEAD + "figures:\n  idle-timing:\n    - absent: |\n", ["not-stated", "not-applicable"]),
    "ignition types": (
        "family",
        HEAD + "ignition:\n  type: |\n",
        ["breaker-magneto", "breaker-battery", "capacitor-discharge", "battery-capacitor-discharge", "transistor"],
    ),
    "linkages": (
        "family",
        HEAD + "linkage: |\n",
        ["cam-touches-at-idle", "cam-clear-at-idle", "roller-on-mark", "plates-cracked-at-idle", "fixed-spark"],
    ),
    "units of power": ("family", HEAD + "engine:\n  power:\n    |\n", ["hp", "kW", "PS"]),
    "adjusters": ("family", HEAD + "adjusters:\n  |\n", FIGURES),
    "keys of an adjuster": (
        "family",
        HEAD + "adjusters:\n  max-advance:\n    |\n",
        ["part", "turning_in", "pitch", "locknut", "holes"],
    ),
    "truth": ("family", HEAD + "adjusters:\n  max-advance:\n    locknut: |\n", ["true", "false"]),
    "source kinds": (
        "source",
        "kind: |\n",
        [
            "handbook",
            "workshop-manual",
            "bulletin",
            "parts-list",
            "plate",
            "bench-measurement",
            "common-practice",
            "memory",
        ],
    ),
    "dimensions": (
        "figure",
        "label: Plug gap\ndimension: |\n",
        [
            "crank-angle",
            "piston-position",
            "angle",
            "length",
            "rotational-speed",
            "power",
            "pressure",
            "torque",
            "volume",
            "voltage",
            "ratio",
            "turns",
            "time",
            "temperature",
            "temperature-difference",
            "order",
            "mark",
            "code",
            "correction",
        ],
    ),
    "figures of a report": ("report", "by: mk\nas_left:\n  |\n", FIGURES),
    "keys of a reading": (
        "report",
        "by: mk\nas_left:\n  max-advance:\n    - |\n",
        [
            *("btdc", "atdc", "tdc", "from", "to", "state", "at"),
            *("reads", "dead_centre", "dead_centre_uncertainty", "shown", "instrument"),
        ],
    ),
    "keys of a reading that is no angle": (
        "report",
        "by: mk\nas_left:\n  plug-gap:\n    - |\n",
        ["mm", "in", "state", "at"],
    ),
    "instruments": (
        "report",
        "by: mk\nas_left:\n  max-advance:\n    - instrument: |\n",
        ["timing-light", "degree-wheel", "depth-gauge", "meter-or-lamp", "by-eye"],
    ),
    "figures of a step": ("routine", "name: Fixed spark\nsteps:\n  - figure: |\n", FIGURES),
    "severities": ("caution", "title: Open flywheel\nseverity: |\n", ["danger", "warning", "care"]),
}
"""By what is asked for: the kind of file, its text with the cursor at ``|``, and the list."""

HOVERS = {
    "a figure": (
        MAX.replace("max-", "max|-") + "    - btdc: 24\n",
        [
            "**Maximum spark advance**",
            catalogue()["max-advance"].document["about"],
            "Hazard A: a spark too early under load detonates and holes a piston within minutes.",
            "```yaml\n- btdc: 24\n  state: cranking\n  source: skerrow-handbook-3\n  page: 42\n```",
        ],
    ),
    "a crank angle": (
        MAX + "    - bt|dc: 24\n",
        [
            r"Degrees before top dead centre, or a piston position there, such as \{in: 0.150\}.",
            "```yaml\n24\n```",
            "```yaml\n- 24\n- 26\n```",
            "```yaml\nin: 0.15\n```",
        ],
    ),
    "a unit": (
        HEAD + "figures:\n  flywheel-nut-torque:\n    - lbf|_ft: 70\n",
        [
            r"Pound-force foot (lbf ft): a number, \[smaller, larger\], or a bound.",
            "```yaml\n65\n```",
            "```yaml\nat_least: 65\n```",
            "```yaml\nnominal: 65\nplus_minus: 1\n```",
        ],
    ),
    "states": (
        MAX + "    - sta|te: cranking\n",
        ["The condition the figure is true in.", "* `cranking`\n* `running`\n* `static`\n"],
    ),
}
"""A text with the cursor at ``|``, and what is said, in order."""

WHOLE = HEAD + "engine: {cycle: two-stroke, cylinders: 3}\nignition: {type: transistor}\n"
STATEMENT = WHOLE + "figures:\n  max-advance:\n    - state: cranking\n      source: skerrow-handbook-3\n"
TWO_MESSAGE = "one unit only: there is already btdc"

MARKS = {
    "nothing": (STATEMENT + "      btdc: 24\n", []),
    "an unknown key": (STATEMENT + "      btdc: 24\n      nota: faint\n", [("nota", "Property nota is not allowed.")]),
    "an unknown key of the family": (
        WHOLE + "figures: {}\nflywhel: {}\n",
        [("flywhel", "Property flywhel is not allowed.")],
    ),
    "an unknown figure": (
        WHOLE + "figures:\n  max-advanced: []\n",
        [("max-advanced", "Property max-advanced is not allowed.")],
    ),
    "a wrong word": (
        STATEMENT.replace("cranking", "idling") + "      btdc: 24\n",
        [("idling", 'Value is not accepted. Valid values: "cranking", "running", "static".')],
    ),
    "a state of other figures": (
        STATEMENT.replace("cranking", "at-rest") + "      btdc: 24\n",
        [("at-rest", 'Value is not accepted. Valid values: "cranking", "running", "static".')],
    ),
    "two units": (STATEMENT + "      atdc: 4\n      btdc: 24\n", [("atdc", TWO_MESSAGE)]),
    "a unit of other figures": (STATEMENT + "      btdc: 24\n      mm: 0.9\n", [("mm", "Property mm is not allowed.")]),
    "no unit": (STATEMENT, [("s", "a unit with its value is missing, or absent")]),
    "absent beside a unit": (
        STATEMENT + "      btdc: 24\n      absent: not-stated\n",
        [("btdc", "absent takes the place of a value and is never beside one")],
    ),
    "no state": (
        STATEMENT.replace("state: cranking\n      ", "") + "      btdc: 24\n",
        [("s", 'Missing property "state".')],
    ),
    "no number": (STATEMENT + "      btdc: 24°\n", [("24°", "write plain digits such as 24 or 0.030")]),
    "three ends": (
        STATEMENT + "      btdc: [22, 24, 26]\n",
        [("[22, 24, 26]", "Array has too many items. Expected 2 or fewer.")],
    ),
    "a fraction that is none": (
        WHOLE + "figures:\n  plug-gap:\n    - {in: 1-1/4, source: plate}\n",
        [("1-1/4", "write plain digits such as 24 or 0.030, or a fraction such as 7/64 or 1 1/4")],
    ),
    "the same unit again": (
        WHOLE + "figures:\n  plug-gap:\n    - {in: 0.04, also: {in: 1.0}, source: plate}\n",
        [("in", "in is already the first unit")],
    ),
    "no id": (
        STATEMENT.replace("skerrow-handbook-3", "The handbook") + "      btdc: 24\n",
        [("The handbook", "write an id of lower-case letters, digits and hyphens, such as skerrow-handbook-3")],
    ),
    "a key twice": (STATEMENT + "      btdc: 24\n      btdc: 22\n", [("btdc: 22", "Map keys must be unique")]),
}
"""A text, and each mark: the marked text and the words."""
