"""What to set for maximum, pickup and idle: what the pointer should show, and in a line how that was reached.

Many families share the same few values, so what is worked out from a value alone is cached.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

from kb.book.model.catalogue import CORRECTION, MAXIMUM
from kb.book.model.crank_geometry import Crank
from kb.book.model.engine_ranges import frozen, thawed
from kb.book.setting.flywheel import Flywheel
from kb.book.setting.rim_position import OnTheRim, on_the_rim
from kb.book.setting.when_running import through_correction
from kb.book.setting.window import Setting, SettingRule, setting
from kb.errors import NotAnAngle
from kb.publish.site.family.engine_rows import figure_rows
from kb.quantity import CRANK_KEYS, Correction, plain, plain_angle, read_value
from kb.vocabulary.evidence import HowSure
from kb.vocabulary.states import State

if TYPE_CHECKING:
    from collections.abc import Mapping

    from kb.publish.site.family.page_types import PageDocument, PageRow, SharedKind

_ANGLES = frozenset(CRANK_KEYS)
_NOT_KNOWN = "running figure unknown"
_KEPT = 4096

ZERO = Fraction(0)
"""No margin, and a pointer that is right: a page has neither."""


class SetLine(NamedTuple):
    """``show``: what the pointer should show, in words with its side. ``how``: short notes, of which the first
    ``reached`` are the printed figures and the margin, the rest its place on the rim and the running figure.
    ``remarks``, and the place on the ``rim`` in full."""

    show: str
    how: tuple[str, ...]
    reached: int
    remarks: tuple[str, ...]
    rim: str


def set_line(
    page: PageDocument,
    kinds: Mapping[str, SharedKind],
    figure: str,
    row: PageRow,
    margin: Fraction = ZERO,
    serial: str = "",
) -> SetLine | None:
    """The target of a row of a page document, or None where it is not set by the timing light.

    Raises:
        MarginTooWide: the margin is more than the figure allows.
    """
    if "value" not in row or _ANGLES.isdisjoint(row["value"]):
        return None
    crank = Crank.read(page.get("engine")) if "piston travel" in row["printed"] else None
    found = _found(frozen(row["value"]), SettingRule.read(kinds[figure]), crank, margin)
    if found is None:
        return None
    target, true, show = found
    how = [_printed(row)]
    if target.margin:
        how.append(f"{plain(target.margin)}° kept to the late side")
    reached = len(how)
    briefly, rim = _on_the_rim(frozen(page.get("flywheel")), true)
    if rim:
        how.append(briefly)
    if figure == MAXIMUM and row["state"] == State.CRANKING:
        how.append(_running(page, true, serial))
    return SetLine(show, tuple(how), reached, target.remarks, rim)


@lru_cache(maxsize=_KEPT)
def _found(
    value: Any, rule: SettingRule, crank: Crank | None, margin: Fraction
) -> tuple[Setting, Fraction, str] | None:
    try:
        found = setting(read_value(thawed(value)), rule, crank, margin)
    except NotAnAngle:
        return None
    if found.target is None:
        return None
    true = found.shown(found.target, ZERO)
    return found, true, str(plain_angle(true))


@lru_cache(maxsize=_KEPT)
def _on_the_rim(flywheel: Any, true: Fraction) -> tuple[str, str]:
    """Where it is on the rim, briefly and in full; empty where that is not known."""
    rim = on_the_rim(Flywheel.read(thawed(flywheel)), true, true)
    return (_briefly(rim), rim.words) if rim else ("", "")


def _printed(row: PageRow) -> str:
    """The printed figure, or those that a worked-out figure comes from: it is never shown without them."""
    if row["standing"] != HowSure.DERIVED:
        return f"printed {row['printed']}"
    parts = []
    for step in row.get("working", ()):
        for one in step["inputs"]:
            reading = one["name"].removesuffix(" reading")
            if reading != one["name"]:
                parts.append(f"printed {one['value']} {reading}")
            else:
                parts.append(f"{one['name']} {_shortly(one['value'])}")
    return (" + " if row["state"] == State.CRANKING else ", ").join(parts)  # only to cranking is the correction added


def _shortly(correction: str) -> str:
    return correction.removeprefix("reads ").replace(" while cranking than when running", " cranking")


def _briefly(rim: OnTheRim) -> str:
    """The place on the rim, as short as possible: in divisions or degrees from a mark, by tape from one's own mark."""
    mark = str(rim.mark) if rim.mark else "your TDC mark"
    if rim.degrees == 0:
        return f"at mark {mark}" if rim.mark else f"at {mark}"
    far = f"{plain(rim.degrees)}°"
    if rim.divisions is not None:
        far = f"{plain(rim.divisions)} division{'' if rim.divisions == 1 else 's'}"
    elif rim.tape and not rim.mark:
        far = f"by tape {rim.tape}"
    if rim.toward:
        return f"{far} from {_numbers(mark, str(rim.toward))}"
    away = f", away from {rim.away_from}" if rim.away_from else ""
    turning = f", {rim.turning}" if rim.turning and not rim.mark else ""  # seen from above, as the rim in full says
    return f"{far} {rim.side} of {mark}{away}{turning}"


def _numbers(mark: str, toward: str) -> str:
    """Two marks as the rim has them, "27 toward 18"; with their sides only where these differ."""
    side = " " + toward.rpartition(" ")[2]
    if mark.endswith(side) and toward.endswith(side):
        mark, toward = mark.removesuffix(side), toward.removesuffix(side)
    return f"{mark} toward {toward}".replace("°", "")


def _running(page: PageDocument, true: Fraction, serial: str) -> str:
    """The running figure, by the correction that holds for every engine that this may be."""
    corrections = [
        one for figure in page["figures"] if figure["id"] == CORRECTION for one in figure_rows(page, figure, serial)
    ]
    rows = [one.row for one in corrections if not one.depends and "value" in one.row]
    if len(rows) != 1 or len(corrections) != 1:
        return _NOT_KNOWN
    return _runs_at(frozen(rows[0]["value"]), rows[0].get("conditions", ""), true)


@lru_cache(maxsize=_KEPT)
def _runs_at(value: Any, conditions: str, true: Fraction) -> str:
    correction = read_value(thawed(value))
    if not isinstance(correction, Correction):
        return _NOT_KNOWN
    return f"runs at {through_correction(correction, true, ZERO, at=conditions).words}"
