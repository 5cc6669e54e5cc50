"""What each bench aid of the site asks for: its fields, their units and keys, and where a family's file holds them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from kb.quantity import UNITS

Field = dict[str, Any]

_SIDES = ("before", "after")
_LENGTHS = ("mm", "in")
_VOLUMES = ("us_gal", "imp_gal", "L")
_PRESSURES = ("psi", "kPa", "bar", "kgf_cm2")
_MOST_CYLINDERS, _MOST_READINGS = 8, 5


def _field(name: str, label: str, kind: str, words: str, **more: Any) -> Field:
    bare: Field = {"hint": "", "source": "", "needed": False, "units": [], "sides": [], "choices": []}
    return {**bare, "name": name, "label": label, "kind": kind, "unit_words": words, "keyboard": "decimal", **more}


def _angle(name: str, label: str, **more: Any) -> Field:
    return _field(name, label, "angle", "degrees", sides=_SIDES, **more)


def _size(name: str, label: str, units: Sequence[str] = _LENGTHS, **more: Any) -> Field:
    named = [{"key": key, "symbol": UNITS[key].symbol} for key in units]
    return _field(name, label, "size", "number", units=named, **more)


def _number(name: str, label: str, words: str, **more: Any) -> Field:
    return _field(name, label, "number", words, **more)


def _choice(name: str, label: str, choices: Sequence[tuple[str, str]], chosen: str = "", **more: Any) -> Field:
    told = [{"value": value, "label": words, "chosen": value == chosen} for value, words in choices]
    return _field(name, label, "choice", "", choices=told, **more)


_KIND = _choice("kind", "What is printed", [("maximum", "a maximum"), ("setting", "pickup or idle")], "maximum")
_FIGURE = (
    _KIND,
    _angle("printed", "Printed figure", needed=True, hint="Degrees as the page has them."),
    _angle("other_end", "Other end, if it is a window"),
    _number("margin", "Margin to the late side", "degrees", hint="For a maximum, 0 to 2 degrees; 1 is usual."),
    _angle("dead_centre", "Pointer shows at true top dead centre",
           hint="For this engine, today: it is never kept. Find it with the dead-centre aid."),
)  # fmt: skip
_RIM = _size("diameter", "Rim's diameter", source="flywheel.rim_diameter")


def _compression() -> Field:
    rows = [
        {"label": f"cylinder {n}", "fields": [_number(f"cylinder_{n}", f"Cylinder {n}", "pressure")]}
        for n in range(1, _MOST_CYLINDERS + 1)
    ]
    hint = "Leave empty what the engine has not."
    return {"name": "readings", "label": "Readings, one for each cylinder", "hint": hint, "rows": rows}


def _turns() -> Field:
    rows = [
        {
            "label": f"reading {n}",
            "fields": [
                _field(f"turns_{n}", f"Turns from the start, {n}", "angle", "turns", sides=("in", "out")),
                _angle(f"reading_{n}", f"Light shows, {n}"),
            ],
        }
        for n in range(1, _MOST_READINGS + 1)
    ]
    hint = "In the order taken; the first at 0 turns. Leave empty what you have not read yet."
    return {"name": "readings", "label": "Readings so far", "hint": hint, "rows": rows}


def _aid(
    aid: str, title: str, about: str, command: str, fields: Sequence[Field], lists: Sequence[Field] = ()
) -> Field:
    return {"aid": aid, "title": title, "about": about, "command": f"stopscrew {command} --help",
            "fields": fields, "lists": lists}  # fmt: skip


def bench_aids() -> Iterator[Field]:
    """Every aid in the order of the job: its id (the folder of its page), title, what it is for, the command that does
    the same, its ``fields`` and ``lists`` of like fields."""
    yield _aid(
        "compression", "Compression of the cylinders", "How far the cylinders lie apart, in percent of what is named.",
        "compression", [_choice("unit", "Unit", [(key, UNITS[key].symbol) for key in _PRESSURES], "psi")],
        [_compression()],
    )  # fmt: skip
    yield _aid(
        "dead-centre", "True top dead centre", "What the pointer shows there, from two contacts with a piston stop.",
        "deadcentre",
        [
            _angle("first", "First contact", needed=True), _angle("second", "Second contact", needed=True),
            _angle("again", "First contact, once more"), _angle("second_again", "Second contact, once more"),
        ],
    )  # fmt: skip
    yield _aid(
        "target", "Target for the light", "What the light should show today for a printed figure, and where it is.",
        "aim", [*_FIGURE, _RIM],
    )  # fmt: skip
    yield _aid(
        "judge", "Judge a reading", "Whether what the light shows is inside the figure, or how far early or late.",
        "judge", [*_FIGURE, _angle("reading", "Light shows now", needed=True)],
    )  # fmt: skip
    yield _aid(
        "turn", "Next turn of a screw", "How far to turn, and which way, from the readings so far.", "turn",
        [
            _angle("target", "Target on the light", needed=True),
            _choice("maximum", "Is it a maximum?", [("yes", "yes"), ("no", "no")], "yes"),
            _choice("works", "Turning in makes it", [("earlier", "earlier"), ("later", "later"), ("", "not known")], "",
                    source="adjusters.*.turning_in"),
        ],
        [_turns()],
    )  # fmt: skip
    yield _aid(
        "piston", "Piston position", "Degrees of crank to how far the piston stands below its top, and back.", "piston",
        [
            _size("stroke", "Stroke", source="engine.stroke", needed=True),
            _size("rod", "Rod, between centres", source="engine.rod", needed=True),
            _angle("crank", "Degrees of crank"), _size("position", "Or piston below its top"),
        ],
    )  # fmt: skip
    yield _aid(
        "rim", "Distance on the rim", "Degrees to a distance by tape or callipers, and back.", "rim",
        [
            {**_RIM, "needed": True}, _number("degrees", "Degrees between two marks", "degrees"),
            _size("tape", "Or distance along the rim, by tape"), _size("callipers", "Or straight across, by callipers"),
        ],
    )  # fmt: skip
    yield _aid(
        "cylinders", "Where each cylinder fires", "Each cylinder's top dead centre on the marks of cylinder 1.",
        "cylinders",
        [
            _field("order", "Firing order", "words", "such as 1-3-2", keyboard="text", source="engine.firing_order",
                   needed=True, hint="Such as 1-3-2."),
            _choice("cycle", "Cycle", [("two-stroke", "two-stroke"), ("four-stroke", "four-stroke")], "two-stroke",
                    source="engine.cycle"),
            _choice("even", "Fires at even distances", [("true", "yes"), ("false", "no"), ("", "not known")], "",
                    source="engine.even_fire"),
            _angle("figure", "Figure of each cylinder"),
        ],
    )  # fmt: skip
    yield _aid(
        "premix", "Oil for petrol", "How much oil goes into so much petrol, with the gallon named.", "premix",
        [
            _size("petrol", "Petrol", _VOLUMES, needed=True),
            _number("parts", "Parts of petrol to one of oil", "to one", needed=True, hint="As 50 for 50:1."),
        ],
    )  # fmt: skip
