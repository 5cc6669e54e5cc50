"""The catalogue, makers and sources, which families refer to."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Field, WithJsonSchema

from kb.intake.models.scalars import Count, Document, Flag, Id, Invented, OneOf, Text, Year, fail
from kb.intake.models.statement import Also, At, Exempt
from kb.intake.models.value_checks import Units, measured
from kb.intake.models.value_keys import OneValue
from kb.quantity import VALUE_KEYS, Dimension
from kb.vocabulary.catalogue import AimPoint, HazardTier, SafestEnd
from kb.vocabulary.conditions import Condition, Gear
from kb.vocabulary.evidence import Seen, SourceKind
from kb.vocabulary.states import State


def _unit_key(text: str) -> str:
    if text not in VALUE_KEYS:
        raise fail("unknown-word", (), text[:40], VALUE_KEYS)
    return text


UnitKey = Annotated[str, AfterValidator(_unit_key), WithJsonSchema({"type": "string", "enum": list(VALUE_KEYS)})]


_DEGREES = Units(("deg",))
Degrees = Annotated[Any, BeforeValidator(measured(_DEGREES)), _DEGREES]


class Plausible(OneValue):
    """A window outside which a figure is more likely a mistake; it gives a warning, never an error."""

    at: At | None = Field(None, description="Only under these conditions.", examples=[{Condition.GEAR: Gear.IN_GEAR}])
    because: Text = Field(
        description="Why.", examples=["earlier means detonation, later another reference", "slower stalls in gear"]
    )


class ExampleEntry(OneValue):
    """A value with its conditions, as it would be written."""

    also: Also | None = Field(None, description="The same in a second unit.", examples=[{"mm": 0.76}])
    at: At | None = Field(None, description="Further conditions.", examples=[{Condition.GEAR: Gear.IN_GEAR}])


class FigureFile(Document):
    """One kind of figure."""

    label: Text = Field(description="Its name in the trade.", examples=["Maximum spark advance", "Plug gap"])
    about: Text = Field(
        description="What it is and how it is read.",
        examples=["The earliest spark at the stop.", "Between the electrodes, by wire gauge."],
    )
    dimension: Dimension = Field(description="What it measures.", examples=["crank-angle"])
    units: list[UnitKey] = Field(
        description="Units it may be stated in.", examples=[["btdc", "atdc", "tdc"]], min_length=1
    )
    states: list[Annotated[str, OneOf(State)]] = Field(
        description="States it may be stated in.", examples=[[State.CRANKING, State.RUNNING]], min_length=1
    )
    at: list[Annotated[str, OneOf(Condition)]] | None = Field(
        None, description="Further conditions it may be stated under.", examples=[[Condition.RPM]]
    )
    hazard: Annotated[str, OneOf(HazardTier)] = Field(
        description="Hazard tier: A can wreck an engine or hurt someone.", examples=[HazardTier.A]
    )
    hazard_because: Text | None = Field(
        None, description="Why that tier.", examples=["a spark too early holes a piston", "a wrong gap shows at once"]
    )
    plausible: list[Plausible] | None = Field(
        None,
        description="Windows outside which a figure is more likely a mistake.",
        examples=[[{"btdc": [10, 35], "because": "earlier means detonation"}]],
    )
    aim: Annotated[str, OneOf(AimPoint)] = Field(description="Where in its window to aim.", examples=[AimPoint.MIDDLE])
    margin_limit: Degrees = Field(
        None,
        description="The largest margin, in degrees, that a mechanic may keep on the late side.",
        examples=[{"deg": 2}, {"deg": 1}],
    )
    if_early: Text | None = Field(
        None,
        description="What the engine does when it is set too early.",
        examples=["detonates under load", "kicks back"],
    )
    if_late: Text | None = Field(
        None, description="What the engine does when it is set too late.", examples=["pulls poorly", "bogs"]
    )
    safest_end: Annotated[str, OneOf(SafestEnd)] = Field(
        description="Which end is safest when sources disagree.", examples=[SafestEnd.LATER]
    )
    job_order: Count = Field(description="Its place in the order of the job.", examples=[170, 30])
    also_called: list[Text] | None = Field(None, description="Other names in the trade.", examples=[["full advance"]])
    example: ExampleEntry = Field(description="A value as it would be written.", examples=[{"btdc": 24}])
    outlier: OneValue | None = Field(
        None, description="How far from the same maker's similar engines is suspicious.", examples=[{"deg": 6}]
    )


class MakerFile(Document):
    """A maker of engines."""

    name: Text = Field(description="Its name.", examples=["Skerrow", "Pellwater"])
    invented: Invented
    about: Text | None = Field(
        None,
        description="What helps to recognise its engines and documents.",
        examples=["Metric throughout.", "Serial numbers begin with two letters."],
    )
    also_called: list[Text] | None = Field(None, description="Other names.", examples=[["Skerrow Marine"]])


class SourceFile(Document):
    """Where statements come from."""

    kind: Annotated[str, OneOf(SourceKind)] = Field(
        description="What kind of source it is.", examples=[SourceKind.HANDBOOK]
    )
    title: Text = Field(
        description="Its title, or what it is.", examples=["Ketch owner's handbook", "Plate on the cowl"]
    )
    invented: Invented
    maker: Id | None = Field(None, description="The maker it is about.", examples=["skerrow", "pellwater"])
    edition: Text | None = Field(None, description="Edition or part number.", examples=["third", "part 17-204"])
    year: Year | None = Field(None, description="Year of publication.", examples=[1979, 1981])
    publisher: Text | None = Field(
        None, description="Who published it.", examples=["Skerrow Marine Works", "Sallow Reach Sailing Club"]
    )
    pages: Count | None = Field(None, description="How many pages it has.", examples=[64, 112])
    page_for_one_family: Flag | None = Field(
        None, description="True if no page of it covers two families of one maker.", examples=[True, False]
    )
    reprint_of: Id | None = Field(
        None,
        description="The source that it reprints; the two count as one.",
        examples=["skerrow-handbook-3", "pellwater-workshop-c"],
    )
    seen: Annotated[str, OneOf(Seen)] = Field(description="How it was seen.", examples=[Seen.PAPER])
    note: Text | None = Field(
        None, description="What else a reader should know.", examples=["the cover is lost", "a copy of a copy"]
    )
    exceptions: list[Exempt] | None = Field(
        None,
        description="Warnings that are accepted.",
        min_length=1,
        examples=[[{"rule": "source-unused", "because": "its families are to come"}]],
    )
