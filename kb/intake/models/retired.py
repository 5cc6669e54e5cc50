"""Retired ids, and statements found wrong."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from kb.intake.models.scalars import AnyId, Date, Document, FamilyId, Id, Invented, OneOf, Page, Text
from kb.intake.models.statement import At, Only
from kb.vocabulary.conditions import Condition
from kb.vocabulary.evidence import RetiredKind
from kb.vocabulary.states import State
from kb.vocabulary.work import CautionSeverity


class RetiredId(Document):
    """One retired id."""

    id: AnyId = Field(description="The old id.", examples=["skerrow/ketch-45", "skerrow-handbook-2"])
    kind: Annotated[str, OneOf(RetiredKind)] = Field(description="What it named.", examples=[RetiredKind.FAMILY])
    to: list[AnyId] | None = Field(None, description="What replaced it.", examples=[["skerrow/ketch-47"]])
    since: Date = Field(description="The date.", examples=["2026-03-02", "2026-04-11"])
    because: Text = Field(description="Why.", examples=["a misread badge", "two papers were one"])


class RetiredFile(Document):
    """Every retired id; ids are never used again."""

    invented: Invented
    retired: list[RetiredId] = Field(description="The ids.", examples=[[]])


class WithdrawnAddress(Document):
    """Which statement is withdrawn."""

    family: FamilyId = Field(description="The family.", examples=["skerrow/ketch-47", "pellwater/levanter-19"])
    figure: Id = Field(description="The figure.", examples=["max-advance", "throttle-pickup"])
    state: Annotated[str, OneOf(State)] | None = Field(None, description="Its state.", examples=[State.CRANKING])
    at: At | None = Field(None, description="Its further conditions.", examples=[{Condition.RPM: 5000}])
    only: Only | None = Field(None, description="The part of the family.", examples=[{"serials": {"from": 350000}}])
    source: Id = Field(description="Its source.", examples=["skerrow-handbook-3", "pellwater-workshop-c"])
    page: Page | None = Field(None, description="Its page.", examples=[42, "7-3"])


class WithdrawnStatement(Document):
    """One statement that was found wrong."""

    statement: WithdrawnAddress = Field(
        description="Which.",
        examples=[{"family": "skerrow/ketch-47", "figure": "max-advance", "source": "skerrow-handbook-3"}],
    )
    since: Date = Field(description="The date.", examples=["2026-03-02", "2026-04-11"])
    because: Text = Field(
        description="Why.",
        examples=["misprint: the plate on three engines says otherwise", "read from the wrong column"],
    )
    severity: Annotated[str, OneOf(CautionSeverity)] = Field(
        description="How severe it was.", examples=[CautionSeverity.DANGER]
    )


class WithdrawnFile(Document):
    """Every statement that was found wrong."""

    invented: Invented
    withdrawn: list[WithdrawnStatement] = Field(description="The statements.", examples=[[]])
