"""The bench aids of the site, in the order of the job: the use of each, its cautions, and its fields in groups."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from kb.bench import adjusting_screw, compression, dead_centre, piston, premix, rim, rpm
from kb.publish.site.bench.fields import (
    CHOSEN,
    COMPRESSION_UNIT,
    CORRECTION,
    CRANK,
    DEAD_CENTRE,
    DIAMETER,
    FLYWHEEL,
    MARKS,
    MARKS_ON,
    NOT_KNOWN,
    OIL,
    PETROL,
    PIN,
    ROD,
    ROTATION,
    SCREW,
    STROKE,
    Field,
    angle,
    choice,
    compression_readings,
    contact,
    figure,
    more_contacts,
    number,
    pressure,
    screw_readings,
    size,
    speed,
    words,
)
from kb.vocabulary.engine import Cycle

Kinds = Mapping[str, Mapping[str, Any]]

CRANKING = (
    "before cranking: all plugs out, every lead on a grounded gap away from the holes, fuel off, throttle cable off, "
    "propeller off, the lever's tie clear of the flywheel"
)
_LIGHT = (CRANKING, adjusting_screw.OF_MAXIMUM)


def _aid(aid: str, title: str, about: str, command: str, cautions: Sequence[str], parts: Sequence[Any]) -> Field:
    """``parts`` are fields, and groups of them that fold."""
    fields = [field for part in parts for field in (part["fields"] if isinstance(part, dict) else part)]
    names = {field["name"] for field in fields}
    return {
        "aid": aid,
        "title": title,
        "about": about,
        "command": f"stopscrew {command} --help",
        "cautions": cautions,
        "parts": [
            {"open": False, **part} if isinstance(part, dict) else {"title": "", "fields": part} for part in parts
        ],
        "fields": fields,
        "takes": bool(names & _OF_FAMILIES),
        "of_timing_light": "kind" in names,
    }


_OF_FAMILIES = {"printed", "diameter", "stroke", "order", "cylinders", "parts"}
"""Fields that can be filled from a family's document."""


def timing_light_figures(figures: Mapping[str, Mapping[str, Any]]) -> dict[str, Mapping[str, Any]]:
    """The kinds of figure that are set by the timing light."""
    return {key: kind for key, kind in figures.items() if kind.get("dimension") == "crank-angle"}


def bench_aids(kinds: Kinds) -> Iterator[Field]:
    """Every aid: its id (the folder of its page), title, what it is for, the command that does the same, cautions, and
    its ``parts``, all ``fields`` in turn; ``kinds`` are the kinds of figure that the timing light sets."""
    yield _aid(
        "compression",
        "Compression of the cylinders",
        "How far the cylinders lie apart, in percent of what is named.",
        "compression",
        compression.CAUTIONS,
        [
            (COMPRESSION_UNIT, compression_readings()),
            {
                "title": "What the book says",
                "about": "To hold the readings against.",
                "fields": (
                    pressure("low", "Book's figure, lower end"),
                    pressure("high", "Book's figure, upper end"),
                    number("cylinders", "Cylinders of the engine", "how many", keyboard="numeric"),
                ),
            },
        ],
    )
    yield _aid(
        "dead-centre",
        "True top dead centre",
        "What the pointer shows there, from two contacts with a piston stop.",
        "deadcentre",
        dead_centre.CAUTIONS,
        [
            (contact("first", "First contact", needed=True), contact("second", "Second contact", needed=True)),
            {"title": "Further pairs", "about": "", "fields": (more_contacts(),)},
            {
                "title": "How well you read it",
                "about": "",
                "fields": (
                    choice(
                        "by",
                        "Found with",
                        [("stop", "a piston stop"), ("gauge", "a dial gauge, equal each side")],
                        "stop",
                    ),
                    number("uncertain", "Standard uncertainty of a reading", "degrees", hint="0.25 where it is empty."),
                ),
            },
            {
                "title": "Pin set aside, or a stop that gave way",
                "about": "Both need stroke and rod.",
                "fields": (PIN, size("gave", "The stop gave way by"), STROKE, ROD),
            },
        ],
    )
    if kinds:
        yield from _timing_light_aids(kinds)
    yield from _other_aids()


def _timing_light_aids(kinds: Kinds) -> Iterator[Field]:
    """The aids for a figure that is set by the timing light."""
    yield _aid(
        "target",
        "Target for the light",
        "What the light should show today for a printed figure, and where it is.",
        "aim",
        _LIGHT,
        [figure(kinds), CHOSEN, FLYWHEEL, CRANK, CORRECTION],
    )
    yield _aid(
        "judge",
        "Judge a reading",
        "Whether what the light shows is inside the figure, or how far early or late.",
        "judge",
        _LIGHT,
        [
            figure(kinds),
            (angle("reading", "Light shows now", needed=True), *CHOSEN),
            SCREW,
            FLYWHEEL,
            CRANK,
            CORRECTION,
        ],
    )
    yield _aid(
        "turn",
        "Next turn of a screw",
        "How far to turn, and which way, from the readings so far.",
        "turn",
        (adjusting_screw.CAUTION, adjusting_screw.OF_MAXIMUM),
        [
            (angle("target", "Target on the light", hint="Or the printed figure that it comes of: one of the two."),),
            figure(kinds, needed=False),
            CHOSEN,
            (screw_readings(),),
            SCREW,
            CRANK,
            CORRECTION,
        ],
    )


def _other_aids() -> Iterator[Field]:
    """The aids that need no such figure."""
    yield _aid(
        "piston",
        "Piston position",
        "Degrees of crank to how far the piston is below its top, and back.",
        "piston",
        piston.CAUTIONS,
        [
            (
                {**STROKE, "needed": True},
                {**ROD, "needed": True},
                angle("crank", "Degrees of crank"),
                size("position", "Or piston below its top"),
                choice("side", "That is", [("before", "before"), ("after", "after"), ("", "either")]),
            ),
            {
                "title": "Leaning hole, pin set aside",
                "about": "",
                "fields": (
                    number("lean", "Plug hole leans by", "degrees", hint="From the bore."),
                    number("slope", "Crown slopes by", "degrees", hint="To face the hole."),
                    PIN,
                ),
            },
        ],
    )
    yield _aid(
        "rim",
        "Distance on the rim",
        "Degrees to a distance by tape or callipers, and back.",
        "rim",
        rim.CAUTIONS,
        [
            (
                {**DIAMETER, "needed": True},
                number("degrees", "Degrees between two marks", "degrees"),
                angle("shown", "Or what the pointer is to show"),
                size("tape", "Or distance along the rim, by tape"),
                size("callipers", "Or straight across, by callipers"),
            ),
            {
                "title": "Tape, marks and pointer",
                "about": "",
                "fields": (size("thickness", "Tape's thickness"), *MARKS, ROTATION, MARKS_ON, DEAD_CENTRE),
            },
        ],
    )
    yield _aid(
        "cylinders",
        "Where each cylinder fires",
        "Each cylinder's top dead centre on the marks of cylinder 1.",
        "cylinders",
        (),
        [
            (
                words("order", "Firing order", "such as 1-3-2", needed=True, hint="Such as 1-3-2."),
                choice("cycle", "Cycle", [(cycle, cycle) for cycle in Cycle.words], Cycle.TWO_STROKE),
                choice("even", "Fires at even intervals", [("true", "yes"), ("false", "no"), NOT_KNOWN]),
                angle("figure", "Figure of each cylinder"),
                DIAMETER,
            )
        ],
    )
    yield _aid(
        "premix",
        "Oil for petrol",
        "How much oil goes into so much petrol, with the gallon named.",
        "premix",
        premix.CAUTIONS,
        [(PETROL, number("parts", "Parts of petrol to one of oil", "to one", hint="As 50 for 50:1."), OIL)],
    )
    yield _aid(
        "rpm",
        "Engine speed",
        "From sparks or another engine's tachometer; what a constant delay loses.",
        "rpm",
        rpm.CAUTIONS,
        [speed()],
    )
    yield _aid(
        "plates",
        "Two throttle plates",
        "How much more air the wider of two plates lets through.",
        "plates",
        (),
        [
            (
                number("first_plate", "First plate", "degrees", needed=True),
                number("second_plate", "Second plate", "degrees", needed=True),
                choice(
                    "counted",
                    "Counted from",
                    [("square", "square across the bore"), ("closed", "where it closes")],
                    "square",
                ),
            ),
            {
                "title": "Plate and shaft",
                "about": "",
                "fields": (
                    number("closed", "Plate closes at", "degrees from square", hint="10 where it is empty."),
                    number("shaft", "Shaft over bore", "share", hint="0.2 where it is empty."),
                ),
            },
        ],
    )
