"""From a page document and what the mechanic chose to what the template shows: texts and lists, nothing worked out
further. Without choices it is the page as the server draws it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any, NamedTuple

from kb.book.fits import Document
from kb.book.reference import MAXIMUM
from kb.publish.site.dots import dots_of
from kb.publish.site.engine_rows import Told, told_figures
from kb.publish.site.set_line import SetLine, set_line
from kb.quantity import UNITS, Quantity, read_value

PICKUP = "throttle-pickup"
_SHORT = {
    "FigureNotStated": "not stated", "FigureDoesNotApply": "does not apply", "FigureDisputed": "sources differ",
    "FigureWithdrawn": "withdrawn", "NoCorrectionKnown": "not known",
}  # fmt: skip
_STATES = ("cranking", "static", "running", "at-rest")
_OTHER = {"mm": "in", "in": "mm", "lbf_ft": "Nm", "lbf_in": "Nm", "kgf_m": "Nm", "Nm": "lbf_ft", "psi": "kPa",
          "kPa": "psi", "bar": "psi", "kgf_cm2": "kPa"}  # fmt: skip
_ROLES = {
    "counts": "", "reprint": "a reprint, counted once with its original", "hearsay": "no original, shown beside one",
    "superseded": "superseded", "withdrawn": "WITHDRAWN, do not use",
}  # fmt: skip


class Choices(NamedTuple):
    """What a mechanic chose: the state in which the maximum is set (empty: as the book has it, cranking first), degrees
    of margin to the late side, and the serial number."""

    state: str = ""
    margin: Fraction = Fraction(0)
    serial: str = ""


NO_CHOICES = Choices()


def view(page: Document, shared: Document, choices: Choices = NO_CHOICES, root: str = "../../../") -> dict[str, Any]:
    """What the template shows of a family; ``root`` leads from the page to the site's root.

    Raises:
        SerialFitsNone: no range of the family holds the serial number.
        MarginTooWide: the margin is more than the maximum allows.
    """
    told = [one for figure in page["figures"] for one in told_figures(page, figure, choices.serial)]
    state = choices.state or _state(told)
    used: set[str] = set()
    rows = [_row(page, shared, one, choices, used) for one in told]
    first = [row for one, row in zip(told, rows, strict=True) if one.figure == MAXIMUM and row["state"] == state][:1]
    pickups = [(one, row) for one, row in zip(told, rows, strict=True) if one.figure == PICKUP]
    pickup = sorted(pickups, key=lambda pair: pair[1]["state"] != state)[:1]
    top = [*first, *(row for _, row in pickup)]
    for row in first:
        row["is_maximum"] = True
    return {
        "id": page["id"], "name": page["name"], "maker": shared["makers"].get(page["maker"], page["maker"]),
        "root": root, "invented": page["invented"], "date": shared["date"], "first": shared["first"],
        "serial": f"serial {choices.serial}" if choices.serial else "serial not given",
        "state": _set_words(state), "no_maximum": not first,
        "top": top, "rest": [row for row in rows if row not in top],
        "fits": [{"words": fit["words"], "note": fit.get("note", "")} for fit in page["fits"]],
        "look_for": page["look_for"], "also_called": ", ".join(page["also_called"]),
        "cautions": [_caution(shared["cautions"][caution]) for caution in page["cautions"]],
        "unknown": ", ".join(shared["figures"][figure]["label"].lower() for figure in page["never_said"]),
        "reports": [_report(shared, report) for report in page["reports"]], "file": f"families/{page['id']}.yaml",
    }  # fmt: skip


def _state(told: Sequence[Told]) -> str:
    """The state in which the maximum is set: cranking where anything is known of that."""
    answered = [one.row["state"] for one in told if one.figure == MAXIMUM and "problem" not in one.row]
    known = answered or [one.row["state"] for one in told if one.figure == MAXIMUM]
    return min(known, key=_STATES.index, default="")


def _set_words(state: str) -> str:
    return {"cranking": "set while cranking", "running": "set running", "static": "set standing still"}.get(state, "")


def _row(page: Document, shared: Document, told: Told, choices: Choices, used: set[str]) -> dict[str, Any]:
    kind, row, figure = shared["figures"][told.figure], told.row, told.figure
    name = figure if figure not in used else f"{figure}-{row['state'] or 'more'}"
    while name in used:
        name += "-more"
    used.add(name)
    margin = choices.margin if figure == MAXIMUM else Fraction(0)
    target = None
    if not told.depends and "problem" not in row:
        target = set_line(page, shared["figures"], figure, row, margin, choices.serial)
    problem = "" if told.depends else row.get("problem", "")
    statements = [_statement(page, shared, told, one) for one in told.statements]
    by_depth = "piston travel" in row.get("printed", "")  # set by the depth gauge, as printed
    is_limit = target is not None and kind["safest_end"] == "later" and not by_depth
    big = target.show if target and is_limit else row.get("printed", "")
    if told.depends:
        big = "depends on the engine"
    elif problem:
        big = _SHORT.get(problem, "no single number")
    number, side = _split(big)
    return {
        "id": name, "label": kind["label"], "state": row["state"], "is_maximum": False, "sets": is_limit,
        "when": ", ".join(filter(None, (row["state"].replace("-", " "), row.get("conditions", "")))),
        "number": number, "side": side, "words": problem or told.depends or "value" not in row or len(number) > 14,
        "problem": problem, "problem_words": row.get("words", "") if problem else "",
        "disputed": problem == "FigureDisputed" or row.get("standing") == "disputed",
        "candidates": list(row.get("candidates", ())) if problem and not statements else [],
        "depends": [{"engines": engines, "printed": one.get("printed", "no single number"), "sure": _sure(one)}
                    for engines, one in told.depends],
        "sure": "" if problem or told.depends else _sure(row), "other": _other(row, told, page),
        "how": list(target.how) if target and is_limit else _aimed(target, row),
        "remarks": [*row.get("remarks", ()), *(target.remarks if target else ())],
        "source": _source(statements), "statements": statements,
        "working": [_step(step) for step in row.get("working", ())],
        "hazard": kind.get("hazard_because", "") if kind["hazard"] == "A" else "",
        "dots": dots_of(page, figure, row),
    }  # fmt: skip


def _sure(row: Document) -> str:
    if "standing" not in row:
        return ""
    return f"worked out, from figures that are {row['rests_on']}" if row.get("rests_on") else str(row["standing"])


def _aimed(target: SetLine | None, row: Document) -> list[str]:
    if target and "piston travel" in row["printed"]:
        return [f"through stroke and rod {target.show}", *target.how[1:]]
    if target is None or target.show == row["printed"]:
        return list(target.how[1:]) if target else []
    return [f"aim at {target.show}, the middle", *target.how[1:]]


def _split(big: str) -> tuple[str, str]:
    """A value in big digits, and its side, or where it is measured, beside it."""
    for mark in (" of piston travel ", " "):
        number, found, side = big.rpartition(mark)
        if found and side in ("BTDC", "ATDC", "TDC"):
            return number, (mark + side).strip()
    return big, ""


def _other(row: Document, told: Told, page: Document) -> str:
    """The same in another unit: as a source prints it, else converted."""
    if "value" not in row:
        return ""
    cited = next(figure["cited"] for figure in page["figures"] if figure["id"] == told.figure)
    for one in row["statements"]:
        printed, also = cited[one[0]][0], cited[one[0]][1]
        if also and printed == row["printed"] and len(one) == 1:
            return " · ".join(also)
    (unit, *_) = row["value"]
    if unit not in _OTHER:
        return ""
    value = read_value(row["value"])
    return str(value.to(UNITS[_OTHER[unit]])) if isinstance(value, Quantity) else ""


def _statement(page: Document, shared: Document, told: Told, one: Sequence[Any]) -> dict[str, str]:
    number, role, reason = one[0], one[1] if len(one) > 1 else "counts", one[2] if len(one) > 2 else ""
    cited = next(figure["cited"] for figure in page["figures"] if figure["id"] == told.figure)[number]
    padded: list[Any] = [*cited] + [""] * (8 - len(cited))
    printed, also, state, conditions, only, source, paper, note = padded
    about = shared["sources"].get(page["sources"][source], {"title": page["sources"][source]})
    said = _ROLES.get(role, role)
    return {
        "printed": printed, "also": ", ".join(also),
        "when": ", ".join(filter(None, (state.replace("-", " "), conditions, only))),
        "title": about["title"], "kind": about.get("kind", "").replace("-", " "), "page": paper,
        "role": f"{said}: {reason}" if said and reason and role != "reprint" else said, "note": note,
    }  # fmt: skip


def _source(statements: Sequence[Mapping[str, str]]) -> str:
    """The first source that counts, with its page, and how many there are besides; for the line under a value."""
    counting = [one for one in statements if not one["role"]] or list(statements)
    if not counting:
        return ""
    first = counting[0]
    page = f", page {first['page']}" if first["page"] else ""
    return first["title"] + page + (f" and {len(counting) - 1} more" if len(counting) > 1 else "")


def _step(step: Document) -> dict[str, Any]:
    inputs = [
        f"{one['name']}: {one['value']}" + (f" ({one['source']})" if one.get("source") else "")
        for one in step["inputs"]
    ]
    rounding = f" ({step['rounding']})" if step.get("rounding") else ""
    return {"name": step["name"], "formula": step["formula"], "inputs": inputs, "result": step["result"] + rounding}


def _caution(caution: Document) -> dict[str, str]:
    return {key: caution.get(key, "") for key in ("severity", "title", "text", "behind")}


def _report(shared: Document, report: Document) -> dict[str, Any]:
    engine = [f"{key} {report[key]}" for key in ("serial", "year") if key in report]
    rows = list(_readings(shared, report))
    return {"on": report["on"], "engine": ", ".join(engine), "ran": report.get("ran", ""),
            "note": report.get("note", ""), "readings": rows}  # fmt: skip


def _readings(shared: Document, report: Document) -> Iterator[dict[str, str]]:
    for when, words in (("found", "as found"), ("left", "as left")):
        for figure, readings in report[when].items():
            label = shared["figures"][figure]["label"] if figure in shared["figures"] else figure
            for one in readings:
                state = ", ".join(filter(None, (one["state"].replace("-", " "), one.get("conditions", ""))))
                yield {"label": label, "when": words, "printed": one["printed"], "state": state}
