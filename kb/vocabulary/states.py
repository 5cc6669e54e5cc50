"""States: the condition in which a figure is true."""

from __future__ import annotations

from kb.vocabulary.words import WordList

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Mapping


class State(WordList):
    """The condition in which a figure is true; only like is compared with like."""

    CRANKING = "cranking"
    RUNNING = "running"
    STATIC = "static"
    AT_REST = "at-rest"


SETTING_STATES = (State.CRANKING, State.STATIC, State.RUNNING)
"""Those in which timing is set, in the order in which a figure is looked for: on land first."""

SCREEN_STATES = (*SETTING_STATES, State.AT_REST)
"""All of them, in the order in which a screen shows them."""

CORRECTED_STATES = (State.CRANKING, State.RUNNING)
"""The two between which a correction leads."""

HOW_WORDS: Mapping[str, str] = {
    State.CRANKING: f"while {State.CRANKING}",
    State.RUNNING: State.RUNNING,
    State.STATIC: "standing still",
}
"""How timing is set in each of the states in which it can be."""

SET_WORDS: Mapping[str, str] = {state: f"set {how}" for state, how in HOW_WORDS.items()}

PLACE_WORDS: Mapping[str, str] = {
    State.CRANKING: f"{State.CRANKING}, on land",
    State.STATIC: "standing still",
    State.RUNNING: f"{State.RUNNING}, in the water",
}
"""How a maximum is set, for who chooses when a job begins."""
