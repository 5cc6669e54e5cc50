"""The work: routines, cautions, and reports of jobs done."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, WithJsonSchema

from kb.intake.models.scalars import Count, Date, Document, FigureId, Filled, Id, Invented, OneOf, Serial, Text, Year
from kb.intake.models.statement import At
from kb.intake.models.value_checks import Units, measured
from kb.intake.models.value_keys import OneValue
from kb.quantity import Side
from kb.vocabulary.conditions import Condition, Module
from kb.vocabulary.engine import IgnitionType, Linkage
from kb.vocabulary.states import State
from kb.vocabulary.work import AngleRead, CautionSeverity, Fitted, IgnitionLeft, Instrument, Noted, Presence, Turned


class AtLeast(Document):
    """A smallest count."""

    at_least: Count = Field(description="At least this many.", examples=[2, 3])


TimedStates = Annotated[list[Annotated[str, OneOf(State)]], Field(min_length=1)]


class When(Filled):
    """When a step applies; every condition given must hold."""

    ignition: list[Annotated[str, OneOf(IgnitionType)]] | None = Field(
        None, description="Only these ignition types.", examples=[[IgnitionType.BREAKER_MAGNETO]], min_length=1
    )
    modules: Annotated[str, OneOf(Fitted)] | None = Field(
        None, description="Only with, or without, modules.", examples=[Fitted.FITTED]
    )
    carburettors: AtLeast | None = Field(
        None, description="Only with this many carburettors.", examples=[{"at_least": 2}]
    )
    numbered_marks: Annotated[str, OneOf(Presence)] | None = Field(
        None, description="Only with, or without, numbered marks.", examples=[Presence.PRESENT]
    )
    set: dict[FigureId, TimedStates] | None = Field(
        None,
        description="Only where one of these figures is set in one of these states: on land if the book has it so.",
        examples=[{"max-advance": [State.STATIC]}],
        min_length=1,
    )
    known: dict[FigureId, TimedStates] | None = Field(
        None,
        description="Only where the book has one of these figures in one of these states.",
        examples=[{"max-advance": [State.RUNNING]}],
        min_length=1,
    )


class GateItem(Document):
    """One thing to tick before going on."""

    tick: Text = Field(description="What must be true.", examples=["all plugs out", "lever untied"])
    when: When | None = Field(None, description="When it applies.", examples=[{"modules": Fitted.FITTED}])


class FigureItem(Document):
    """One of the figures that are read at a step."""

    figure: FigureId = Field(description="The figure.", examples=["coil-gap", "plug-torque"])
    when: When | None = Field(
        None, description="When it is read.", examples=[{"ignition": [IgnitionType.BREAKER_MAGNETO]}]
    )


class StepEntry(Document):
    """One step of a routine."""

    id: Id = Field(description="Its name within the routine.", examples=["true-top-dead-centre", "idle-stop"])
    do: Text = Field(
        description="What to do.",
        examples=["Find true top dead centre with the piston stop.", "Read again after locking."],
    )
    more: Text | None = Field(
        None,
        description="What else is worth knowing of what to do; folded away on a screen, whole on paper.",
        examples=["A step too short to read twice.", "With a rope there is no battery to measure."],
    )
    why: Text | None = Field(
        None, description="Why.", examples=["Every later reading is counted from it.", "Locking moves it."]
    )
    figure: FigureId | None = Field(
        None, description="The figure that it sets.", examples=["throttle-pickup", "max-advance"]
    )
    figures: list[FigureItem] | None = Field(
        None,
        description="The figures that are read at it one after the other, where they are several.",
        examples=[[{"figure": "plug-gap"}, {"figure": "plug-torque"}]],
        min_length=2,
    )
    when: When | None = Field(None, description="When it applies.", examples=[{"modules": Fitted.FITTED}])
    state: Annotated[str, OneOf(State)] | None = Field(
        None,
        description="The state that its figure is read in here; without it any state of the figure.",
        examples=[State.CRANKING, State.STATIC],
    )
    cautions: list[Id] | None = Field(None, description="Cautions that belong to it.", examples=[["open-flywheel"]])
    records: list[Annotated[str, OneOf(Noted)]] | None = Field(
        None, description="What to note.", examples=[[Noted.AS_FOUND, Noted.AS_LEFT]]
    )
    makes_stale: list[Id] | None = Field(
        None, description="Steps to check again after it, as far as they were done.", examples=[["idle-stop"]]
    )
    module: Annotated[str, OneOf(Module)] | None = Field(
        None,
        description="How it leaves the modules, if it changes that.",
        examples=[Module.DISCONNECTED, Module.CONNECTED],
    )
    turned: Annotated[str, OneOf(Turned)] | None = Field(
        None,
        description="How the flywheel is turned in it: by hand needs a dead ignition, the starter an empty plug hole.",
        examples=[Turned.BY_HAND, Turned.BY_STARTER],
    )
    ignition: Annotated[str, OneOf(IgnitionLeft)] | None = Field(
        None,
        description="How it leaves the ignition, if it changes that.",
        examples=[IgnitionLeft.DEAD, IgnitionLeft.LIVE],
    )
    puts_in: list[Id] | None = Field(
        None,
        description="What it puts into the engine and the starter must not meet.",
        examples=[["piston-stop"]],
        min_length=1,
    )
    takes_out: list[Id] | None = Field(
        None,
        description="What its gate makes sure is out of the engine again.",
        examples=[["piston-stop"]],
        min_length=1,
    )
    leads_back: Annotated[Literal["true"], WithJsonSchema({"type": "boolean", "const": True})] | None = Field(
        None,
        description="True: it is not done before every step that a later one disturbed was read again.",
        examples=[True],
    )
    gate: list[GateItem] | None = Field(
        None,
        description="Items to tick one by one before going on.",
        examples=[[{"tick": "all plugs out"}]],
        min_length=1,
    )


class RoutineFile(Document):
    """The order of work for one kind of linkage."""

    name: Text = Field(description="Its name.", examples=["Cam touches at idle", "Fixed spark"])
    about: Text | None = Field(
        None,
        description="What it is for.",
        examples=["Engines whose cam rests on the roller at idle.", "Engines without a spark lever."],
    )
    linkage: Annotated[str, OneOf(Linkage)] = Field(
        description="The kind of linkage it is for.", examples=[Linkage.CAM_TOUCHES_AT_IDLE]
    )
    steps: list[StepEntry] = Field(
        description="The steps, in order.",
        examples=[[{"id": "battery", "do": "Note the voltage while cranking."}]],
        min_length=1,
    )


class CautionFile(Document):
    """Something that can hurt someone, and what to do about it."""

    title: Text = Field(description="In a few words.", examples=["Open flywheel", "Carbon monoxide"])
    text: Text = Field(
        description="What to do and not to do.",
        examples=["No loose sleeves, hair, gloves or rope near it.", "Run outdoors."],
    )
    severity: Annotated[str, OneOf(CautionSeverity)] = Field(
        description="How severe.", examples=[CautionSeverity.DANGER]
    )
    behind: Text = Field(
        description="The regulation or standard behind it, or common practice.",
        examples=["common practice", "33 CFR 183.710"],
    )


_SIDES = Units(tuple(map(str, Side)), single=True)
_DEGREES = Units(("deg",), single=True)
Angle = Annotated[Any, BeforeValidator(measured(_SIDES)), _SIDES]
Degrees = Annotated[Any, BeforeValidator(measured(_DEGREES)), _DEGREES]
OF_ANGLES = ("reads", "dead_centre", "dead_centre_uncertainty", "shown", "instrument")
"""The keys of a reading that only an angle has."""


class Found(OneValue):
    """What was read on one engine."""

    state: Annotated[str, OneOf(State)] | None = Field(
        None, description="The condition it was read in.", examples=[State.CRANKING]
    )
    at: At | None = Field(None, description="Further conditions.", examples=[{Condition.RPM: 300}])
    reads: Annotated[str, OneOf(AngleRead)] | None = Field(
        None,
        description="Whether an angle is true, reckoned by the dead-centre reading, or as the pointer showed it.",
        examples=[AngleRead.TRUE_ANGLE],
    )
    dead_centre: Angle = Field(
        None,
        description="What the pointer showed at true top dead centre, which a true angle was reckoned by.",
        examples=[{"btdc": 2}, {"tdc": 0}],
    )
    dead_centre_uncertainty: Degrees = Field(
        None, description="How far off that may be either way, k = 2.", examples=[{"deg": 0.5}]
    )
    shown: Angle = Field(
        None, description="What the pointer showed, before a true angle was reckoned.", examples=[{"btdc": 25}]
    )
    instrument: Annotated[str, OneOf(Instrument)] | None = Field(
        None, description="What an angle was read with.", examples=[Instrument.TIMING_LIGHT]
    )


class ReportedEngine(Document):
    """The engine of a report."""

    serial: Serial | None = Field(None, description="Its serial number.", examples=[301455, "LB30412"])
    year: Year | None = Field(None, description="Its year.", examples=[1979, 1981])


Readings = dict[Id, Annotated[list[Found], Field(min_length=1)]]


class ReportFile(Document):
    """One job on one engine."""

    invented: Invented
    override: Text | None = Field(
        None,
        description="A figure left on its dangerous side, and why.",
        examples=[
            "maximum spark advance: 26° BTDC cranking, 2 degrees early; left so: the owner wants it",
            "maximum spark advance: not read after locking; left so: the light has failed",
        ],
    )
    by: Text = Field(description="Initials.", examples=["mk", "ro"])
    on: Date = Field(description="The date.", examples=["2026-05-12", "2026-06-02"])
    engine: ReportedEngine | None = Field(None, description="The engine.", examples=[{"serial": 301455}])
    as_found: Readings | None = Field(
        None,
        description="Readings before the work.",
        examples=[{"max-advance": [{"btdc": 27, "state": State.CRANKING}]}],
    )
    as_left: Readings | None = Field(
        None, description="Readings after locking.", examples=[{"max-advance": [{"btdc": 24, "state": State.CRANKING}]}]
    )
    ran: Text | None = Field(
        None,
        description="How it ran.",
        examples=["clean pick-up, plugs light brown after an hour", "still stalls when cold"],
    )
    note: Text | None = Field(
        None, description="What else should be known.", examples=["new coil last winter", "cowl of another engine"]
    )
