"""What a step of a routine needs of the engine: that it is cranked, that it runs, or neither."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kb.book.setting.routine_figures import figures_of
from kb.vocabulary.states import CORRECTED_STATES, State
from kb.vocabulary.work import Turned

if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import Any

    from kb.intake.facts.rule_context import RuleContext

_PLUGS_IN = "plug-torque"


def needed_state(step: Mapping[str, Any], context: RuleContext) -> str:
    """``cranking``, ``running`` (or an engine that can start, its plugs in), or nothing."""
    if step.get("turned") == Turned.BY_STARTER:
        return State.CRANKING
    if "state" in step:
        return step["state"] if step["state"] in CORRECTED_STATES else ""
    needed = [_needed_for(figure, context) for figure in figures_of(step)]
    return next((state for state in (State.RUNNING, State.CRANKING) if state in needed), "")


def _needed_for(figure: str, context: RuleContext) -> str:
    kind = context.figures.get(figure)
    if kind is None:
        return ""
    return State.RUNNING if kind.id == _PLUGS_IN else next((one for one in CORRECTED_STATES if one in kind.states), "")
