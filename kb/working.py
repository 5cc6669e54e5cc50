"""The steps by which a computed figure was reached, each with its inputs and their sources.

Floor 0.
"""

from __future__ import annotations

from kb.frozen import record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import TypedDict

    class InputDocument(TypedDict):
        """An input as plain values for JSON."""

        name: str
        value: str
        source: str

    class StepDocument(TypedDict):
        """A step as plain values for JSON."""

        name: str
        formula: str
        inputs: list[InputDocument]
        result: str
        rounding: str


@record()
class Input:
    """One input of a step: its name, its value in words with unit and side, and its source."""

    name: str
    value: str
    source: str = ""


@record()
class Step:
    """One step: its formula in words, its inputs and its result; ``rounding`` says how and to which side."""

    name: str
    formula: str
    inputs: tuple[Input, ...]
    result: str
    rounding: str = ""


Working = tuple[Step, ...]
"""The steps in order."""


def working_lines(working: Working) -> list[str]:
    """The steps as lines of text."""
    lines: list[str] = []
    for step in working:
        lines.append(f"{step.name}: {step.formula} = {step.result}" + (f" ({step.rounding})" if step.rounding else ""))
        lines.extend(
            f"  {given.name}: {given.value}" + (f", {given.source}" if given.source else "") for given in step.inputs
        )
    return lines


def read_working(raw: Sequence[StepDocument]) -> Working:
    """The steps from what ``working_document`` gives."""
    return tuple(
        Step(
            step["name"],
            step["formula"],
            tuple(Input(given["name"], given["value"], given["source"]) for given in step["inputs"]),
            step["result"],
            step["rounding"],
        )
        for step in raw
    )


def working_document(working: Working) -> list[StepDocument]:
    """The steps as plain values for JSON."""
    return [
        {
            "name": step.name,
            "formula": step.formula,
            "inputs": [{"name": one.name, "value": one.value, "source": one.source} for one in step.inputs],
            "result": step.result,
            "rounding": step.rounding,
        }
        for step in working
    ]
