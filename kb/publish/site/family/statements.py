"""Statements of sources and reports of jobs, as a family's page shows them under a figure and at its foot."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from kb.publish.site.family.page_types import Cited, PageDocument, PageReport, SharedDocument, Shown
    from kb.publish.site.family.view_types import ReadingView, ReportView, StatementView, StepView
    from kb.working import StepDocument

_ROLES = {
    "counts": "",
    "reprint": "a reprint, counted once with its original",
    "hearsay": "not an original, shown beside one",
    "superseded": "superseded",
    "withdrawn": "WITHDRAWN, do not use",
}


def statement_of(
    page: PageDocument, shared: SharedDocument, cited: Sequence[Cited], one: Shown, row: str = ""
) -> StatementView:
    """A statement for the page, from its list in a row of a page document; the row's state and conditions are not
    repeated."""
    statement = cited[one[0]]
    role: str = one[1] if len(one) > 1 else "counts"
    reason: str = one[2] if len(one) > 2 else ""
    padded: Cited = [*statement, *_EMPTY[len(statement) :]]
    printed, also, state, conditions, only, source, paper, note = padded
    about = shared["sources"].get(page["sources"][source]) or {"title": page["sources"][source]}
    when = spaced(state, conditions, only)
    words = _ROLES.get(role, role)
    if words and reason and role != "reprint":
        words = f"{words}: {reason}"
    return {
        "printed": printed,
        "also": ", ".join(also),
        "when": "" if when == row else when,
        "title": about["title"],
        "kind": about.get("kind", "").replace("-", " "),
        "page": paper,
        "role": words,
        "note": note,
        "where": f"{about['title']}, page {paper}" if paper else about["title"],
        "withdrawn": role == "withdrawn",
    }


_EMPTY = ("",) * 8


@lru_cache(maxsize=4096)
def spaced(state: str, *more: str) -> str:
    """A state and its conditions in words."""
    return ", ".join(filter(None, (state.replace("-", " "), *more)))


def step_of(step: StepDocument) -> StepView:
    """One step of a working."""
    inputs = [
        f"{one['name']}: {one['value']}" + (f" ({one['source']})" if one.get("source") else "")
        for one in step["inputs"]
    ]
    rounding = f" ({step['rounding']})" if step.get("rounding") else ""
    return {"name": step["name"], "formula": step["formula"], "inputs": inputs, "result": step["result"] + rounding}


def report_of(shared: SharedDocument, report: PageReport) -> ReportView:
    """A report of a job: its day, its engine, the readings as found and as left, how it ran."""
    engine = [f"{key} {report[key]}" for key in ("serial", "year") if key in report]
    rows = list(_readings(shared, report))
    return {
        "on": report["on"],
        "engine": ", ".join(engine),
        "override": report.get("override", ""),
        "ran": report.get("ran", ""),
        "note": report.get("note", ""),
        "readings": rows,
    }


def _readings(shared: SharedDocument, report: PageReport) -> Iterator[ReadingView]:
    for held, words in ((report["found"], "as found"), (report["left"], "as left")):
        for figure, readings in held.items():
            label = shared["figures"][figure]["label"] if figure in shared["figures"] else figure
            for one in readings:
                state = spaced(one["state"], one.get("conditions", ""))
                how = one.get("how", "")
                yield {"label": label, "when": words, "printed": one["printed"], "state": state, "how": how}
