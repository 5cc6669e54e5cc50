"""The figures that are read at a step of a routine."""

from __future__ import annotations

from kb.book.model.engine_ranges import as_list

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import Any

    from kb.book.model.engine_ranges import Document


def figure_items(step: Mapping[str, Any]) -> tuple[tuple[str, Document | None], ...]:
    """Its one `figure`, or its `figures` in the order in which they are read; and when each is."""
    one = ((step["figure"], None),) if "figure" in step else ()
    return (*one, *((item["figure"], item.get("when")) for item in as_list(step.get("figures"))))


def figures_of(step: Mapping[str, Any]) -> tuple[str, ...]:
    """All figures that may be read at a step."""
    return tuple(figure for figure, _ in figure_items(step))
