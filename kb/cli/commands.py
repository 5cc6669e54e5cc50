"""The commands, by what they are for, and what each does in a line; all that the help needs to know of them."""

from __future__ import annotations

GROUPS = {
    "look up": {
        "find": "find a family by maker, name, power, year, serial number or what is stamped on it",
        "show": "show a family, or one of its figures with state, window, standing, sources and pages",
    },
    "the bench": {
        "job": "print the order of work for a family: what to do, tick, note and check again",
        "deadcentre": "find true top dead centre from the pointer's readings at a piston stop",
        "aim": "work out what to set a figure to: the reading, where it is on the flywheel, the working",
        "judge": "judge a reading: inside, or how far early (advanced) or late (retarded), which way to turn",
        "turn": "work out the next turn of an adjusting screw from the readings so far",
        "piston": "convert degrees of crank to piston position, and back",
        "rim": "convert degrees to distance along the flywheel's rim and across it, and back",
        "cylinders": "show where each cylinder fires on the flywheel",
        "plates": "compare the air through two carburettors whose throttle plates open differently",
        "compression": "compare the compression of the cylinders with each other and with the book",
        "premix": "work out the oil for a volume of petrol, or the ratio of a mixture",
        "rpm": "work out engine speed from pulses, or the degrees that a delay loses",
    },
    "on paper": {
        "sheet": "write the bench sheet of one engine: what to set, step by step, with boxes to write in",
        "draw": "draw a family's flywheel rim, or chart its cranking against its running maximum, as SVG",
        "tape": "make a degree tape at true scale for a rim, as SVG or PDF",
    },
    "contribute": {
        "check": "check a folder of YAML files and report every mistake at its line and column",
        "rule": "explain a rule of the check, with examples; without an id, list the rules",
        "compile": "check a folder and compile it to one file for look-ups",
        "site": "build the site of a book, or build and serve it on this machine",
    },
    "set up": {"completion": "print the script that lets a shell complete commands, families, figures and options"},
}
"""In the order in which the help lists them."""

DOES = {command: does for group in GROUPS.values() for command, does in group.items()}
"""What each command does."""
