"""A family: engines that are set by the same figures; one file."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from kb.intake.models.scalars import Count, Document, Filled, Flag, Id, Invented, OneOf, Plain, Text
from kb.intake.models.statement import Exempt, Fits, StatementEntry
from kb.intake.models.value_checks import Units, measured
from kb.vocabulary.engine import Cycle, IgnitionType, Layout, Linkage, MarksOn, Rotation, TurningIn
from kb.vocabulary.states import State

_LENGTH, _POWER = Units(("mm", "in")), Units(("hp", "kW", "PS"))
_DISPLACEMENT, _DIVISION = Units(("cm3", "L")), Units(("deg",))
Length = Annotated[Any, BeforeValidator(measured(_LENGTH)), _LENGTH]
Power = Annotated[Any, BeforeValidator(measured(_POWER)), _POWER]
Displacement = Annotated[Any, BeforeValidator(measured(_DISPLACEMENT)), _DISPLACEMENT]
Division = Annotated[Any, BeforeValidator(measured(_DIVISION)), _DIVISION]


class EngineEntry(Document):
    """The engine itself."""

    cycle: Annotated[str, OneOf(Cycle)] = Field(description="Two-stroke or four-stroke.", examples=[Cycle.TWO_STROKE])
    cylinders: Count = Field(description="How many cylinders.", examples=[3, 2])
    layout: Annotated[str, OneOf(Layout)] | None = Field(
        None, description="How they are arranged.", examples=[Layout.IN_LINE]
    )
    firing_order: list[Count] | None = Field(
        None, description="The cylinders in the order in which they fire.", examples=[[1, 3, 2]], min_length=1
    )
    even_fire: Flag | None = Field(None, description="Whether they fire at even intervals.", examples=[True, False])
    power: Power = Field(None, description="Rated power.", examples=[{"hp": 47}])
    carburettors: Count | None = Field(None, description="How many carburettors.", examples=[3, 1])
    bore: Length = Field(None, description="Cylinder bore.", examples=[{"mm": 70}])
    stroke: Length = Field(None, description="Piston stroke.", examples=[{"mm": 64}])
    rod: Length = Field(None, description="Connecting rod, centre to centre.", examples=[{"mm": 120}])
    displacement: Displacement = Field(None, description="Swept volume of all cylinders.", examples=[{"cm3": 739}])


class IgnitionEntry(Document):
    """The ignition."""

    type: Annotated[str, OneOf(IgnitionType)] = Field(
        description="Its type.", examples=[IgnitionType.CAPACITOR_DISCHARGE]
    )
    modules: list[Id] | None = Field(
        None,
        description="Modules that change the advance: disconnected before timing, reconnected after.",
        examples=[["idle-advance"]],
        min_length=1,
    )
    triggers: Count | None = Field(
        None,
        description="How many sets of contacts or triggers time the sparks; with several each cylinder is read.",
        examples=[1, 2],
    )


class NumberedMarks(Filled):
    """The marks that have a number."""

    btdc: list[Plain] | None = Field(None, description="Degrees before top dead centre.", examples=[[9, 18, 27]])
    atdc: list[Plain] | None = Field(None, description="Degrees after top dead centre.", examples=[[9]])


class FlywheelEntry(Document):
    """The flywheel and its marks."""

    rotation: Annotated[str, OneOf(Rotation)] | None = Field(
        None, description="Seen from above.", examples=[Rotation.CLOCKWISE]
    )
    rim_diameter: Length = Field(None, description="Diameter of the rim where the marks are.", examples=[{"mm": 240}])
    marks_on: Annotated[str, OneOf(MarksOn)] | None = Field(
        None, description="Where the numbers are.", examples=[MarksOn.FLYWHEEL]
    )
    numbered_marks: NumberedMarks | None = Field(
        None, description="The marks that have a number.", examples=[{"btdc": [9, 18, 27]}]
    )
    division: Division = Field(
        None, description="Degrees per division; without it nobody can count divisions.", examples=[{"deg": 1}]
    )


class AdjusterEntry(Document):
    """The screw, rod or stop that sets a figure."""

    part: Text = Field(
        description="What it is and where.", examples=["upper stop screw on the spark lever", "rod to the throttle cam"]
    )
    turning_in: Annotated[str, OneOf(TurningIn)] | None = Field(
        None, description="What turning it in does to the figure.", examples=[TurningIn.LATER]
    )
    pitch: Length = Field(None, description="Pitch of its thread.", examples=[{"mm": 1.0}])
    locknut: Flag | None = Field(None, description="Whether it has a lock nut.", examples=[True, False])
    holes: Count | None = Field(
        None, description="How many fixed holes it can stand in, if it is a pin: it is not turned.", examples=[3, 5]
    )


Statements = Annotated[list[StatementEntry], Field(min_length=1)]


class FamilyFile(Document):
    """Engines that are set by the same figures."""

    name: Text = Field(description="What the maker called it.", examples=["Ketch 47", "Yawl 23"])
    maker: Id = Field(
        description="The maker: the name of a file in specs/makers, and of this file's folder.",
        examples=["skerrow", "pellwater"],
    )
    invented: Invented
    look_for: Text | None = Field(
        None,
        description="How to recognise it on the engine.",
        examples=["K47 stamped on the powerhead below the coil", "plate on the port side of the bracket"],
    )
    also_called: list[Text] | None = Field(None, description="Other names.", examples=[["K47"]], min_length=1)
    fits: list[Fits] | None = Field(
        None, description="Years and serial numbers.", examples=[[{"years": [1978, 1981]}]], min_length=1
    )
    engine: EngineEntry = Field(description="The engine.", examples=[{"cycle": Cycle.TWO_STROKE, "cylinders": 3}])
    ignition: IgnitionEntry = Field(description="The ignition.", examples=[{"type": IgnitionType.CAPACITOR_DISCHARGE}])
    linkage: Annotated[str, OneOf(Linkage)] | None = Field(
        None, description="How spark and throttle are linked.", examples=[Linkage.CAM_TOUCHES_AT_IDLE]
    )
    flywheel: FlywheelEntry | None = Field(
        None, description="The flywheel and its marks.", examples=[{"rotation": Rotation.CLOCKWISE}]
    )
    adjusters: dict[Id, AdjusterEntry] | None = Field(
        None, description="What sets each figure.", examples=[{"max-advance": {"part": "upper stop screw"}}]
    )
    figures: dict[Id, Statements] = Field(
        description="The figures, each with one or more statements.",
        examples=[{"max-advance": [{"btdc": 24, "state": State.CRANKING, "source": "skerrow-handbook-3", "page": 42}]}],
    )
    cautions: list[Id] | None = Field(
        None,
        description="Cautions for this family: names of files in specs/cautions.",
        examples=[["too-much-advance"]],
        min_length=1,
    )
    exceptions: list[Exempt] | None = Field(
        None,
        description="Warnings that are accepted, each with its reason.",
        examples=[[{"rule": "hazard-single-source", "at": "max-advance", "because": "only one handbook is known"}]],
        min_length=1,
    )
