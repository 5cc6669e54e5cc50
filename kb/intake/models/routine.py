"""The work: routines, cautions, and reports of jobs done."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from kb.intake.models.family import IgnitionType, Linkage
from kb.intake.models.scalars import Count, Date, Document, FigureId, Filled, Id, Invented, Serial, Text, Year
from kb.intake.models.statement import At, State
from kb.intake.models.value_keys import OneValue


class AtLeast(Document):
    """A smallest count."""

    at_least: Count = Field(description="At least this many.", examples=[2, 3])


class When(Filled):
    """When a step applies; every condition given must hold."""

    ignition: list[IgnitionType] | None = Field(
        None, description="Only these ignition types.", examples=[["breaker-magneto"]], min_length=1
    )
    modules: Literal["fitted", "none"] | None = Field(
        None, description="Only with, or without, modules.", examples=["fitted"]
    )
    carburettors: AtLeast | None = Field(
        None, description="Only with this many carburettors.", examples=[{"at_least": 2}]
    )
    numbered_marks: Literal["present", "none"] | None = Field(
        None, description="Only with, or without, numbered marks.", examples=["present"]
    )


class GateItem(Document):
    """One thing to tick before going on."""

    tick: Text = Field(description="What must be true.", examples=["all plugs out", "lever untied"])
    when: When | None = Field(None, description="When it applies.", examples=[{"modules": "fitted"}])


class StepEntry(Document):
    """One step of a routine."""

    id: Id = Field(description="Its name within the routine.", examples=["true-top-dead-centre", "idle-stop"])
    do: Text = Field(
        description="What to do.",
        examples=["Find true top dead centre with the piston stop.", "Read again after locking."],
    )
    why: Text | None = Field(
        None, description="Why.", examples=["Every later reading is counted from it.", "Locking moves it."]
    )
    figure: FigureId | None = Field(
        None, description="The figure that it sets.", examples=["throttle-pickup", "max-advance"]
    )
    when: When | None = Field(None, description="When it applies.", examples=[{"modules": "fitted"}])
    cautions: list[Id] | None = Field(None, description="Cautions that belong to it.", examples=[["open-flywheel"]])
    records: list[Literal["as-found", "as-left"]] | None = Field(
        None, description="What to note.", examples=[["as-found", "as-left"]]
    )
    makes_stale: list[Id] | None = Field(
        None, description="Earlier steps to check again after it.", examples=[["idle-stop"]]
    )
    module: Literal["disconnected", "connected"] | None = Field(
        None, description="How it leaves the modules, if it changes that.", examples=["disconnected", "connected"]
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
    linkage: Linkage = Field(description="The kind of linkage it is for.", examples=["cam-touches-at-idle"])
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
    severity: Literal["danger", "warning", "care"] = Field(description="How severe.", examples=["danger"])
    behind: Text = Field(
        description="The regulation or standard behind it, or common practice.",
        examples=["common practice", "33 CFR 183.710"],
    )


class Found(OneValue):
    """What was read on one engine."""

    state: State | None = Field(None, description="The condition it was read in.", examples=["cranking"])
    at: At | None = Field(None, description="Further conditions.", examples=[{"rpm": 300}])


class ReportedEngine(Document):
    """The engine of a report."""

    serial: Serial | None = Field(None, description="Its serial number.", examples=[301455, "LB30412"])
    year: Year | None = Field(None, description="Its year.", examples=[1979, 1981])


Readings = dict[Id, Annotated[list[Found], Field(min_length=1)]]


class ReportFile(Document):
    """One job on one engine."""

    invented: Invented
    by: Text = Field(description="Initials.", examples=["mk", "ro"])
    on: Date = Field(description="The date.", examples=["2026-05-12", "2026-06-02"])
    engine: ReportedEngine | None = Field(None, description="The engine.", examples=[{"serial": 301455}])
    as_found: Readings | None = Field(
        None, description="Readings before the work.", examples=[{"max-advance": [{"btdc": 27, "state": "cranking"}]}]
    )
    as_left: Readings | None = Field(
        None, description="Readings after locking.", examples=[{"max-advance": [{"btdc": 24, "state": "cranking"}]}]
    )
    ran: Text | None = Field(
        None,
        description="How it ran.",
        examples=["clean pick-up, plugs light brown after an hour", "still stalls when cold"],
    )
    note: Text | None = Field(
        None, description="What else should be known.", examples=["new coil last winter", "cowl of another engine"]
    )
