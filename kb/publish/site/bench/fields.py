"""The fields of the site's bench aids: their labels, units and keys, and the groups they form."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from kb.quantity import UNITS, Side
from kb.vocabulary.engine import MarksOn, Rotation, TurningIn
from kb.vocabulary.states import CORRECTED_STATES, HOW_WORDS, State

Field = dict[str, Any]

_SIDES = ((Side.BEFORE.value, "before"), (Side.AFTER.value, "after"))
_LENGTHS = ("mm", "in")
_PRESSURES = ("psi", "kPa", "bar", "kgf_cm2")
_VOLUMES = ("us_gal", "imp_gal", "L")
_OILS = ("mL", "us_fl_oz", "imp_fl_oz", "L")
MOST_CYLINDERS, MOST_READINGS, MOST_PAIRS, MOST_SPEEDS = 8, 6, 3, 4
NOT_KNOWN = ("", "not known")


def _field(name: str, label: str, kind: str, words: str, **more: Any) -> Field:
    bare: Field = {
        "hint": "",
        "only": "",
        "needed": False,
        "units": (),
        "sides": (),
        "choices": (),
        "keyboard": "decimal",
    }
    return {**bare, "keyboard": "decimal", "name": name, "label": label, "kind": kind, "unit_words": words, **more}


def _units(keys: Sequence[str]) -> list[tuple[str, str]]:
    return [(key, UNITS[key].symbol) for key in keys]


def _as_they_are(keys: Sequence[str]) -> list[tuple[str, str]]:
    """Choices whose words are shown as they are."""
    return [(key, key) for key in keys]


def contact(name: str, label: str, **more: Any) -> Field:
    """A contact with the piston stop, its keys named by what it is: in either order, nobody presets its side."""
    return angle(name, label, sides=[(side, f"contact {words} TDC") for side, words in _SIDES], **more)


def angle(name: str, label: str, **more: Any) -> Field:
    """Degrees with a side."""
    return _field(name, label, "angle", "degrees", **{"sides": _SIDES, **more})


def printed(name: str, label: str, **more: Any) -> Field:
    """An angle or a piston position as a page prints it: digits, unit and side are kept."""
    units = [("crank_deg", "°"), ("piston_mm", "mm"), ("piston_in", "in")]
    return _field(name, label, "printed", "number", sides=_SIDES, units=units, **more)


def size(name: str, label: str, units: Sequence[str] = _LENGTHS, **more: Any) -> Field:
    """A number with its unit."""
    return _field(name, label, "size", "number", units=_units(units), **more)


def pressure(name: str, label: str, **more: Any) -> Field:
    """A pressure with its unit."""
    return size(name, label, _PRESSURES, **more)


def number(name: str, label: str, words: str, **more: Any) -> Field:
    """A number whose unit is given in words, and shown beside it where it is a unit."""
    return _field(name, label, "number", words, **more)


def words(name: str, label: str, what: str, **more: Any) -> Field:
    """Words."""
    return _field(name, label, "words", what, **{"keyboard": "text", **more})


def choice(name: str, label: str, choices: Sequence[tuple[str, str]], chosen: str = "", **more: Any) -> Field:
    """One of several keys."""
    return _field(name, label, "choice", "", choices=choices, chosen=chosen, **more)


def several(
    name: str, label: str, hint: str, rows: Sequence[Sequence[Field]], least: int = 1, shape: str = ""
) -> Field:
    """Rows of the same fields: at ``least`` that many are shown, and one more than is filled in. ``shape`` names how a
    row is read, where it is not plain values."""
    listed = [{"fields": row} for row in rows]
    return {"name": name, "label": label, "kind": "list", "hint": hint, "rows": listed, "least": least, "shape": shape}


DEAD_CENTRE = angle(
    "dead_centre",
    "Pointer shows at true top dead centre",
    hint="For this engine, today: it is never kept. Find it with the dead-centre aid.",
)
DIAMETER = size("diameter", "Rim's diameter")
STROKE = size("stroke", "Stroke")
ROD = size("rod", "Rod, between centres")
PIN = size("offset", "Wrist pin stands aside by", hint="To the before side. Leave it empty where it stands in line.")
CRANK = {"title": "Stroke and rod", "about": "For the depth gauge.", "fields": (STROKE, ROD)}
MARKS = (
    _field("marks_before", "Numbered marks before", "numbers", "degrees", keyboard="text", hint="Such as 9, 18, 27."),
    _field("marks_after", "Numbered marks after", "numbers", "degrees", keyboard="text"),
    _field("division", "One division between them is worth", "digits", "degrees"),
)
ROTATION = choice("rotation", "Turns, seen from above", [*_as_they_are(Rotation.words), NOT_KNOWN])
MARKS_ON = choice(
    "marks_on",
    "Numbers stand on",
    [(MarksOn.FLYWHEEL, "the flywheel"), (MarksOn.FIXED_SCALE, "a fixed scale"), NOT_KNOWN],
)
FLYWHEEL = {
    "title": "Flywheel and its marks",
    "about": "For the place on the rim.",
    "fields": (*MARKS, ROTATION, MARKS_ON, DIAMETER),
}
TURNING_IN = choice(
    "turning_in", "Turning in makes it", [*_as_they_are((TurningIn.EARLIER, TurningIn.LATER)), NOT_KNOWN]
)
LOCKNUT = choice("locknut", "Lock nut", [("true", "yes"), ("false", "no"), NOT_KNOWN])
SCREW = {
    "title": "The screw",
    "about": "Which way to turn.",
    "fields": (
        words("part", "Screw", "name", hint="Such as upper stop screw."),
        TURNING_IN,
        LOCKNUT,
        size("pitch", "Pitch of its thread"),
    ),
}
CORRECTION = {
    "title": "Cranking and running",
    "about": "How it reads while cranking, against running. Its side is printed or measured, never reasoned out.",
    "fields": (
        several(
            "corrections",
            "Correction",
            "One line holds at any speed, or at the speed typed; several are a table.",
            [
                (
                    angle(f"correction_{n}", f"Reads, {n}", sides=(("earlier", "earlier"), ("later", "later"))),
                    number(f"at_rpm_{n}", f"At speed, {n}", "rpm"),
                )
                for n in range(1, MOST_SPEEDS + 1)
            ],
            shape="correction",
        ),
        choice("set", "You set it", [("", "as it is printed"), *_as_they_are(CORRECTED_STATES)]),
        number("rpm", "Running speed", "rpm", hint="Of the running figure, or at which you want to know it."),
    ),
}


def figure(kinds: Mapping[str, Mapping[str, Any]], *, needed: bool = True) -> Field:
    """The fields for a printed figure that is set by the timing light."""
    named = [(key, str(kind["label"]).lower()) for key, kind in kinds.items()]
    states = list(HOW_WORDS.items())
    bounds = [("", "as it stands"), ("at_most", "at most"), ("at_least", "at least")]
    hint = "The digits as the page has them; mm and in are of piston travel."
    fields = (
        choice("kind", "Figure", named, "max-advance" if "max-advance" in kinds else next(iter(kinds))),
        printed("printed", "Printed figure", needed=needed, hint=hint),
        printed("other_end", "Other end, if it is a window"),
        choice("bound", "It is printed", bounds),
        choice("state", "It holds", states, State.CRANKING),
    )
    return {"title": "The printed figure", "about": "", "open": True, "fields": fields}


CHOSEN = (
    number("margin", "Margin to the late side", "degrees", hint="For a maximum, 0 to 2 degrees; 1 is usual."),
    DEAD_CENTRE,
)


def compression_readings() -> Field:
    """The field of a reading for each cylinder."""
    rows = [[number(f"cylinder_{n}", f"Cylinder {n}", "pressure")] for n in range(1, MOST_CYLINDERS + 1)]
    return several("readings", "Readings, one for each cylinder", "From cylinder 1 on.", rows, 4)


def screw_readings() -> Field:
    """The field of turns of the screw with the reading after each."""
    ways = (("in", "in"), ("out", "out"))
    rows = [
        [
            angle(f"turns_{n}", f"Turns from the start, {n}", unit_words="turns", sides=ways),
            angle(f"reading_{n}", f"Light shows, {n}"),
        ]
        for n in range(1, MOST_READINGS + 1)
    ]
    return several("readings", "Readings so far", "In the order taken; the first at 0 turns.", rows, 2)


def more_contacts() -> Field:
    """Further pairs of contacts."""
    rows = [
        [contact(f"first_{n}", f"First contact, pair {n}"), contact(f"second_{n}", f"Second contact, pair {n}")]
        for n in range(2, 2 + MOST_PAIRS)
    ]
    return several("more", "Further pairs", "Four pairs show how far they scatter.", rows)


COMPRESSION_UNIT = choice("unit", "Unit on the gauge", _units(_PRESSURES), "psi")
PETROL = size("petrol", "Petrol", _VOLUMES, needed=True)
OIL = size("oil", "Or the oil that is in it", _OILS)


def speed() -> tuple[Field, ...]:
    """The fields for each way of working out an engine's speed, or the degrees that a delay loses."""

    def of(way: str, *fields: Field) -> list[Field]:
        return [{**field, "only": f"way={way}"} for field in fields]

    ways = [
        ("sparks", "pulses a second"),
        ("tachometer", "a tachometer"),
        ("delay", "a delay"),
        ("lost", "degrees lost"),
    ]
    return (
        choice("way", "From", ways, "sparks"),
        *of(
            "sparks",
            number("hertz", "Pulses a second", "Hz"),
            number("pulses", "Pulses in a turn of the crank", "how many"),
        ),
        *of(
            "tachometer",
            number("shown", "Tachometer shows", "rpm"),
            number("set_for", "It is set for, in a turn", "pulses"),
            number("has", "The engine gives, in a turn", "pulses"),
        ),
        *of("delay", size("delay", "Delay", ("us", "ms", "s")), number("at", "Speed", "rpm")),
        *of(
            "lost",
            number("lost", "Degrees lost", "degrees"),
            number("slow", "From the slower speed", "rpm"),
            number("fast", "To the faster speed", "rpm"),
        ),
    )
