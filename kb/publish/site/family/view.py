"""From a page document and the mechanic's choices to the texts and lists that the template shows. Without choices it is
the page as the server draws it."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple
from urllib.parse import quote

from kb.book.model.catalogue import MAXIMUM
from kb.publish.site.family.engine_rows import EngineRow, FigureRows, figure_rows
from kb.publish.site.family.figure_cautions import BEFORE, cautions_by_figure, mark_warnings
from kb.publish.site.family.ran_at_dots import dots_of
from kb.publish.site.family.set_line import ZERO, SetLine, set_line
from kb.publish.site.family.statements import report_of, spaced, statement_of, step_of
from kb.publish.site.family.value_parts import in_units, pieces, whole
from kb.vocabulary.catalogue import HazardTier
from kb.vocabulary.evidence import HowSure
from kb.vocabulary.states import SCREEN_STATES, SET_WORDS, State
from kb.vocabulary.work import CautionSeverity

if TYPE_CHECKING:
    from kb.book.model.documents import CautionDocument
    from kb.publish.site.family.page_types import PageDocument, PageRow, SharedDocument
    from kb.publish.site.family.view_types import (
        CautionView,
        FamilyView,
        LinkView,
        RowView,
        Side,
        StatementView,
        TwinView,
    )

PICKUP = "throttle-pickup"
_SHORT = {
    "FigureNotStated": "not stated",
    "FigureDoesNotApply": "does not apply",
    "FigureDisputed": "sources differ",
    "FigureWithdrawn": "withdrawn",
    "NoCorrectionKnown": "not known",
}
_ANGLE_AIDS = (("target", "Target for the light"), ("judge", "Judge a reading"))
_SCREW_AID = (("turn", "Next turn of the screw"),)
_AIDS = {"compression": (("compression", "Compare the cylinders"),), "premix": (("premix", "How much oil"),)}
_LONG = 14  # a code of more letters is read as words, not as digits


class Choices(NamedTuple):
    """A mechanic's choices: the state in which the maximum is set (empty: as the book has it, cranking first), degrees
    of margin to the late side, the serial number, and units (empty: as printed; metric, or inch for inch-pound)."""

    state: str = ""
    margin: Fraction = ZERO
    serial: str = ""
    units: str = ""


NO_CHOICES = Choices()


def view(
    page: PageDocument, shared: SharedDocument, choices: Choices = NO_CHOICES, root: str = "../../../"
) -> FamilyView:
    """What the template shows of a family; ``root`` leads from the page to the site's root.

    Raises:
        SerialFitsNone: no range of the family holds the serial number.
        MarginTooWide: the margin is more than the maximum allows.
    """
    drawn = _Rows(page, shared, choices)
    figures = [one for figure in page["figures"] for one in figure_rows(page, figure, choices.serial)]
    state = choices.state or _state(figures)
    first = [one for one in figures if one.figure == MAXIMUM and one.row["state"] == state][:1]
    pickup = sorted((one for one in figures if one.figure == PICKUP), key=lambda one: one.row["state"] != state)[:1]
    leading = {one.figure: one for one in (*first, *pickup)}  # a figure's cautions are shown with one of its rows
    rows = [(one, drawn.row(one, leading.setdefault(one.figure, one) is one)) for one in figures]
    drawn_as = {id(one): row for one, row in rows}
    top = [drawn_as.pop(id(one)) for one in (*first, *pickup)]
    rest = list(drawn_as.values())
    for row in top[: len(first)]:
        row["is_maximum"] = True
    mark_warnings((*top, *rest))
    before = drawn.cautions(BEFORE)
    return {
        "id": page["id"],
        "name": page["name"],
        "maker": shared["makers"].get(page["maker"], page["maker"]),
        "root": root,
        "invented": page["invented"],
        "date": shared["date"],
        "first": shared["first"],
        "twins": _twins(page),
        "serial": f"serial {choices.serial}" if choices.serial else "serial not given",
        "state": SET_WORDS.get(state, ""),
        "no_maximum": "" if first else _no_maximum(figures, state),
        "top": top,
        "rest": rest,
        "parts": [{"name": "top", "rows": top, "job": True}, {"name": "rest", "rows": rest, "job": False}],
        "fits": [{"words": fit["words"], "note": fit.get("note", "")} for fit in page["fits"]],
        "before": before,
        "grave": [one for one in before if one["severity"] != CautionSeverity.CARE] or before[:1],
        "page": page,  # what the template shows as it stands
        "also_called": ", ".join(page["also_called"]),
        "unknown": ", ".join(shared["figures"][figure]["label"].lower() for figure in page["never_said"]),
        "reports": [report_of(shared, report) for report in page["reports"]],
        "file": f"families/{page['id']}.yaml",
    }


def page_title(page: PageDocument, shared: SharedDocument) -> str:
    """The title of a family's page: maker and name, and where it has twins what tells it apart."""
    twins, look_for = page.get("twins"), page["look_for"]
    told = [twins["made"], f"look for {look_for}" if look_for else ""] if twins else []
    return ", ".join(filter(None, (f"{shared['makers'].get(page['maker'], page['maker'])} {page['name']}", *told)))


def _twins(page: PageDocument) -> list[TwinView]:
    """What tells the family from its twins, at its head; empty without any."""
    twins = page.get("twins")
    if not twins:
        return []
    others: list[LinkView] = [
        {"href": f"families/{one['id']}/", "words": one["made"] or one["id"]} for one in twins["others"]
    ]
    return [{"made": twins["made"], "look_for": page["look_for"], "others": others}]


def _no_maximum(figures: Sequence[FigureRows], state: str) -> str:
    unsaid = "No maximum advance is published"
    return (
        f"{unsaid} for an engine {SET_WORDS.get(state, state)}"
        if any(one.figure == MAXIMUM for one in figures)
        else unsaid
    )


def _state(figures: Sequence[FigureRows]) -> str:
    """The state in which the maximum is set: cranking where anything is known of that."""
    maxima = [one.row for one in figures if one.figure == MAXIMUM]
    states = {row["state"] for row in maxima if "problem" not in row} or {row["state"] for row in maxima}
    return next((state for state in SCREEN_STATES if state in states), "")


class _Rows:
    """Rows of one page, each with an id of its own."""

    def __init__(self, page: PageDocument, shared: SharedDocument, choices: Choices) -> None:
        self.page, self.shared, self.choices = page, shared, choices
        self.cited = {figure["id"]: figure["cited"] for figure in page["figures"]}
        self.figure_cautions = cautions_by_figure(page, shared, list(self.cited))
        self.used: set[str] = set()

    def row(self, figure_rows: FigureRows, leads: bool) -> RowView:
        """One figure in one state; the row that leads has the figure's cautions."""
        row, figure, choices = figure_rows.row, figure_rows.figure, self.choices
        kind, cited = self.shared["figures"][figure], self.cited[figure]
        problem = "" if figure_rows.depends else row.get("problem", "")
        when = spaced(row["state"], row.get("conditions", ""))
        statements = [statement_of(self.page, self.shared, cited, one, when) for one in figure_rows.statements]
        target = None if figure_rows.depends or problem else self._target(figure, row)
        is_limit = target is not None and self._is_limit(figure, row)
        other = ""
        if figure_rows.depends:
            big = "depends on the engine"
        elif problem:
            big = _SHORT.get(problem, "no single number")
        else:
            big, other = in_units(row, cited, choices.units)
            if target and is_limit:  # what the printed value is otherwise is not what a target beside it is
                big, other = target.show, other if target.show == row["printed"] else ""
        owned = [self._own(figure, one) for one in figure_rows.depends]
        plain = bool(problem or figure_rows.depends or "value" not in row)
        label, is_angle = kind["label"], kind.get("dimension") == "crank-angle"
        return {
            "id": self._name(figure, row["state"]),
            "label": label,
            "state": row["state"],
            "is_maximum": False,
            "sets": is_limit,
            "heading": f"Set {label[:1].lower()}{label[1:]}" if is_limit else label,
            "when": when,
            "words": plain and (len(big) > _LONG or big != row.get("printed")),
            "digits": whole(big) if plain else pieces(big),
            "problem_words": row.get("words", "") if problem else "",
            "candidates": list(row.get("candidates", ())) if problem and not statements else [],
            "sides": [side for side, _ in owned] or _sides(problem, row, statements),
            "sure": "" if problem or figure_rows.depends else _sure(row),
            "other": other,
            "how": list(target.how) if target and is_limit else _aimed(target, row),
            "remarks": [
                *row.get("remarks", ()),
                *_through(target, row),
                *(target.remarks if target else ()),
                *([f"On the rim: {target.rim}"] if target and target.rim else ()),
                *(words for _, words in owned if words),
            ],
            "statements": statements,
            "withdrawn": [f"{one['printed']}, {one['where']}" for one in statements if one["withdrawn"]],
            "working": [step_of(step) for step in row.get("working", ())],
            "hazard": kind.get("hazard_because", "") if kind["hazard"] == HazardTier.A else "",
            "cautions": self.cautions(figure) if leads else [],
            "links": self._links(figure, row, is_angle and not problem),
            "dots": dots_of(self.page, figure_rows),
            "look_first": is_angle or row["state"] == State.RUNNING,
        }

    def cautions(self, figure: str) -> list[CautionView]:
        """The cautions to show with a figure, or those to show before the work."""
        return [_caution(self.shared["cautions"][one]) for one in self.figure_cautions.get(figure, ())]

    def _target(self, figure: str, row: PageRow) -> SetLine | None:
        margin = self.choices.margin if figure == MAXIMUM else ZERO
        return set_line(self.page, self.shared["figures"], figure, row, margin, self.choices.serial)

    def _is_limit(self, figure: str, row: PageRow) -> bool:
        """Whether the target stands in big digits; what is set by the depth gauge stands as printed."""
        by_depth = "piston travel" in row["printed"]
        return self.shared["figures"][figure]["safest_end"] == "later" and not by_depth

    def _own(self, figure: str, own: EngineRow) -> tuple[Side, str]:
        """The row of some of the engines, as a target where it is a maximum; and where that is on the rim, in words."""
        row, sure = own.row, _sure(own.row)
        target = self._target(figure, row) if "value" in row and self._is_limit(figure, row) else None
        if target is None:
            printed = row.get("printed", "no single number")
            return {"digits": pieces(printed), "who": own.engines, "sure": sure}, ""
        who = " · ".join((own.engines, *target.how[: target.reached]))
        where = f"{own.engines}: {', '.join(target.how[target.reached :])}"
        return {"digits": pieces(target.show), "who": who, "sure": sure}, where

    def _name(self, figure: str, state: str) -> str:
        name = figure if figure not in self.used else f"{figure}-{state or 'more'}"
        while name in self.used:
            name += "-more"
        self.used.add(name)
        return name

    def _links(self, figure: str, row: PageRow, is_angle: bool) -> list[LinkView]:
        """The aids of the bench that take this figure's numbers."""
        screw = _SCREW_AID if is_angle and figure in self.page.get("adjusters", ()) else ()
        aids = (*(_ANGLE_AIDS if is_angle else _AIDS.get(figure, ())), *screw)
        asked = f"family={self.page['id']}&figure={figure}&state={row['state']}"
        serial = self.choices.serial
        more = f"&serial={quote(serial, safe=_PLAIN)}" if serial else ""
        return [{"href": f"bench/{aid}/?{asked}{more}", "words": words} for aid, words in aids]


_PLAIN = "!*'()"


def _sides(problem: str, row: PageRow, statements: Sequence[StatementView]) -> list[Side]:
    """What each source says, where they do not agree."""
    if problem != "FigureDisputed" and row.get("standing") != HowSure.DISPUTED:
        return []
    return [{"digits": pieces(one["printed"]), "who": one["where"], "sure": one["role"]} for one in statements]


def _sure(row: PageRow) -> str:
    return f"worked out ({row['rests_on']})" if row.get("rests_on") else str(row.get("standing", ""))


def _aimed(target: SetLine | None, row: PageRow) -> list[str]:
    if target is None:
        return []
    if "piston travel" in row["printed"]:
        return [f"is {target.show}", *target.how[1:]]
    printed = [] if row["standing"] != HowSure.DERIVED else target.how[:1]
    aim = [] if target.show == row["printed"] else [f"aim at {target.show}"]
    return [*printed, *aim, *target.how[1:]]


def _through(target: SetLine | None, row: PageRow) -> list[str]:
    return [f"{target.show} through stroke and rod"] if target and "piston travel" in row["printed"] else []


def _caution(caution: CautionDocument) -> CautionView:
    return _caution_of(caution["title"], caution["text"], caution.get("behind", ""), caution["severity"])


@lru_cache(maxsize=256)
def _caution_of(title: str, text: str, behind: str, severity: str) -> CautionView:
    """A caution for the page. Cached: every page shows the same few."""
    return {"title": title, "text": text, "behind": behind, "severity": severity, "word": severity.capitalize()}
