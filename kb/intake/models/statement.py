"""Small models that several kinds of file share."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, Discriminator, Field, Tag, model_validator

from kb.intake.models.scalars import (
    Count,
    Date,
    Document,
    Filled,
    Flag,
    Id,
    OneOf,
    Page,
    Plain,
    Serial,
    Text,
    Year,
    fail,
)
from kb.intake.models.value_checks import Units, check_value, measured
from kb.intake.models.value_keys import OneValue, Valued
from kb.quantity import value_keys
from kb.vocabulary.conditions import MEASURED, Bank, Condition, Gear, Module, OctaneScale, Plugs, Warmth
from kb.vocabulary.evidence import AbsentWord
from kb.vocabulary.states import State


class YearRange(Filled):
    """Years with an open end."""

    from_: Year | None = Field(None, alias="from", description="The first year.", examples=[1978, 1979])
    to: Year | None = Field(None, description="The last year.", examples=[1981, 1982])


class SerialRange(Filled):
    """Serial numbers, both ends included; an end left out is open."""

    from_: Serial | None = Field(
        None, alias="from", description="The first serial number.", examples=[300100, "LB30001"]
    )
    to: Serial | None = Field(None, description="The last serial number.", examples=[418999, "LB44800"])


def shape_of(raw: Any) -> str:
    """The tag of the union branch with this shape; it begins with NUL so that it is never taken for a key."""
    return "\0mapping" if isinstance(raw, Mapping) else "\0list" if isinstance(raw, (list, tuple)) else "\0scalar"


Years = Annotated[
    Annotated[YearRange, Tag("\0mapping")]
    | Annotated[tuple[Year, Year], Tag("\0list")]
    | Annotated[Year, Tag("\0scalar")],
    Discriminator(shape_of),
]
"""One year, [first, last], or a range with an open end."""


class Only(Filled):
    """The part of a family that a statement is about."""

    years: Years | None = Field(None, description="Only engines of these years.", examples=[[1979, 1981], 1980])
    serials: SerialRange | None = Field(None, description="Only these serial numbers.", examples=[{"from": 350000}])


class Fits(Only):
    """Which engines belong to a family."""

    note: Text | None = Field(
        None, description="What else distinguishes them.", examples=["electric start only", "long shaft"]
    )


def _ascending(ends: tuple[str, str]) -> tuple[str, str]:
    check_value("rpm", ends)
    return ends


Rpm = Annotated[
    Annotated[tuple[Plain, Plain], AfterValidator(_ascending), Tag("\0list")] | Annotated[Plain, Tag("\0scalar")],
    Discriminator(lambda raw: "\0list" if isinstance(raw, (list, tuple)) else "\0scalar"),
]
_HEIGHT = Units(MEASURED[Condition.ALTITUDE])
Altitude = Annotated[Any, BeforeValidator(measured(_HEIGHT)), _HEIGHT]


def _key(word: str, about: str, *examples: Any) -> Any:
    """A key that may be left out, called by a word of the vocabulary."""
    return Field(None, alias=word, description=about, examples=list(examples))


class Octane(Filled):
    """Octane of the petrol, by one of the ways of stating it."""

    ron: Plain | None = _key(OctaneScale.RON, "Research octane number.", 92, 95)
    mon: Plain | None = _key(OctaneScale.MON, "Motor octane number.", 82, 85)
    aki: Plain | None = _key(OctaneScale.AKI, "Anti-knock index, (RON + MON) / 2.", 87, 89)


class At(Filled):
    """What else the page says about the condition; only like is compared with like."""

    rpm: Rpm | None = _key(Condition.RPM, "Engine speed, or [smaller, larger].", 5000, [4500, 5500])
    gear: Annotated[str, OneOf(Gear)] | None = _key(Condition.GEAR, "In gear or in neutral.", Gear.IN_GEAR)
    cylinder: Count | None = _key(Condition.CYLINDER, "Which cylinder, counted from 1.", 1, 2)
    bank: Annotated[str, OneOf(Bank)] | None = _key(Condition.BANK, "Which bank of a V.", Bank.PORT)
    carburettor: Count | None = _key(Condition.CARBURETTOR, "Which carburettor, counted from the top.", 1, 2)
    module: Annotated[str, OneOf(Module)] | None = _key(
        Condition.MODULE, "Whether the module that changes the advance is connected.", Module.DISCONNECTED
    )
    engine: Annotated[str, OneOf(Warmth)] | None = _key(Condition.ENGINE, "Cold or warm.", Warmth.WARM)
    plugs: Annotated[str, OneOf(Plugs)] | None = _key(Condition.PLUGS, "Plugs in or out.", Plugs.OUT)
    octane: Octane | None = _key(Condition.OCTANE, "Octane of the petrol.", {OctaneScale.AKI: 87})
    altitude: Altitude = _key(Condition.ALTITUDE, "Height above sea level.", {"m": [0, 750]})


class ReadingEntry(Document):
    """Who read the page, when, and whether without sight of an earlier reading."""

    by: Text = Field(description="Initials of the reader.", examples=["mk", "ro"])
    on: Date = Field(description="The date.", examples=["2026-03-02", "2026-04-11"])
    blind: Flag | None = Field(
        None, description="True if read without sight of the first reading.", examples=[True, False]
    )


class Supersedes(Document):
    """The page that a bulletin replaces."""

    source: Id = Field(
        description="The source that is superseded.", examples=["skerrow-handbook-3", "pellwater-workshop-c"]
    )
    page: Page | None = Field(None, description="Its page.", examples=[42, "7-3"])


class AddressEntry(Filled):
    """Which statements are meant: those that match everything given here."""

    figure: Id | None = Field(None, description="The figure.", examples=["max-advance", "throttle-pickup"])
    state: Annotated[str, OneOf(State)] | None = Field(None, description="Its state.", examples=[State.CRANKING])
    at: At | None = Field(None, description="Its further conditions.", examples=[{Condition.RPM: 5000}])
    only: Only | None = Field(None, description="The part of the family.", examples=[{"serials": {"from": 350000}}])
    source: Id | None = Field(None, description="Its source.", examples=["skerrow-handbook-3", "pellwater-workshop-c"])
    page: Page | None = Field(None, description="Its page.", examples=[42, "7-3"])


Where = Annotated[
    Annotated[AddressEntry, Tag("\0mapping")] | Annotated[Text, Tag("\0scalar")],
    Discriminator(lambda raw: "\0mapping" if isinstance(raw, Mapping) else "\0scalar"),
]


class Exempt(Document):
    """An accepted warning, with the reason."""

    rule: Id = Field(description="The rule whose warning is accepted.", examples=["hazard-single-source", "disputed"])
    at: Where | None = Field(
        None,
        description="A figure, a top-level key, or an address.",
        examples=["max-advance", {"figure": "max-advance"}],
    )
    because: Text = Field(
        description="Why it is accepted.", examples=["only one handbook is known", "the two pages are about two series"]
    )


class Also(Valued):
    """The same value in the page's further units, each rounded as printed."""

    printed_so: Flag | None = Field(
        None, description="True if the page itself converts wrongly.", examples=[True, False]
    )

    @model_validator(mode="before")
    @classmethod
    def _whole(cls, data: Any) -> Any:
        if isinstance(data, dict):
            if not value_keys(data) and not cls._unknown(data):
                raise fail("missing-key", (), "a unit", ("mm: 0.76",))
            if "from" in data or "to" in data:
                cls._check_straddle(data)
        return data


class StatementEntry(OneValue):
    """One source's value of one figure in one state."""

    also: Also | None = Field(None, description="The same in the page's second unit.", examples=[{"mm": 0.76}])
    state: Annotated[str, OneOf(State)] | None = Field(
        None, description="The condition the figure is true in.", examples=[State.CRANKING]
    )
    at: At | None = Field(
        None, description="What else the page says about the condition.", examples=[{Condition.RPM: 5000}]
    )
    only: Only | None = Field(None, description="Only a part of the family.", examples=[{"serials": {"from": 350000}}])
    source: Id = Field(
        description="Where it is from: the name of a file in specs/sources.",
        examples=["skerrow-handbook-3", "skerrow-cover-plate"],
    )
    page: Page | None = Field(None, description="The page.", examples=[42, "7-3"])
    supersedes: Supersedes | None = Field(
        None, description="The page it replaces.", examples=[{"source": "skerrow-handbook-3", "page": 42}]
    )
    readings: list[ReadingEntry] | None = Field(
        None, description="Who read the page.", examples=[[{"by": "mk", "on": "2026-03-02"}]], min_length=1
    )
    absent: Annotated[str, OneOf(AbsentWord)] | None = Field(
        None,
        description="Instead of a value: the source does not state the figure, or the figure does not apply.",
        examples=[AbsentWord.NOT_STATED],
    )
    note: Text | None = Field(
        None,
        description="What else a reader should know, in your own words.",
        examples=["measured with the module disconnected", "the ink is faint"],
    )
