"""One strip of a degree tape: ticks, numbers, the names of the sides, the target, and the direction it moves."""

from __future__ import annotations

from kb.frozen import record
from kb.publish.drawings.lettering import Box, box_of, width_of
from kb.publish.drawings.picture import Picture
from kb.publish.drawings.tape_plan import BLANK, MARGIN, TAB, Strip, TapePlan
from kb.quantity import plain_angle
from kb.vocabulary.engine import Rotation

HEIGHT = 22.0
"""How high the tape is, in millimetres."""
_TYPE, _SMALL = 3.2, 2.8
_ONES, _FIVES, _TENS = 4.0, 6.0, 8.5
"""How long the ticks are."""


@record()
class _PlacedStrip:
    """A strip placed on the sheet: where its first degree is, and its upper edge."""

    plan: TapePlan
    strip: Strip
    zero: float
    top: float

    @property
    def way(self) -> int:
        """+1 or -1: whether degrees before top dead centre rise or fall from left to right."""
        return -1 if self.strip.last < self.strip.first else 1

    def at(self, degree: float) -> float:
        """Where a degree lies across the sheet."""
        return self.zero + self.plan.along((degree - self.strip.first) * self.way)

    @property
    def ends(self) -> tuple[float, float]:
        """Where its first and its last degree lie."""
        return self.zero, self.at(self.strip.last)


def draw_strip(picture: Picture, plan: TapePlan, number: int, top: float) -> None:
    """Draw one of the plan's strips, counted from 1, with its upper edge at ``top``; millimetres."""
    strip = plan.strips[number - 1]
    begins, ends = number == 1 and not plan.full_turn, number == len(plan.strips) and not plan.full_turn
    laid = _PlacedStrip(plan, strip, float(MARGIN) + (float(BLANK) if begins else 0.0), top)
    last = laid.ends[1]
    wide = last + float(BLANK if ends else TAB) - float(MARGIN)
    picture.rectangle((float(MARGIN), top), wide, HEIGHT, thickness=0.15, kind="outline")
    if not ends:
        picture.line((last, top), (last, top + HEIGHT), 0.2, "1.5 1", kind="join")
        picture.text((last + 0.8, top + 7.6), "JOIN", _SMALL)
    _draw_degrees(picture, laid, number)
    _draw_sides(picture, laid)
    _draw_turning(picture, laid, _draw_target(picture, laid))


def _draw_degrees(picture: Picture, laid: _PlacedStrip, number: int) -> None:
    plan, strip, bottom = laid.plan, laid.strip, laid.top + HEIGHT
    for degree in range(strip.first, strip.last + laid.way, laid.way):
        long = _TENS if degree % 10 == 0 else _FIVES if degree % 5 == 0 else _ONES
        thick = 0.5 if degree == 0 else 0.25 if degree % 5 == 0 else 0.15
        picture.line((laid.at(degree), bottom - long), (laid.at(degree), bottom), thick, kind="degree")
        if degree % 10 or (plan.full_turn and number == 1 and degree == strip.first):
            continue  # where the ends of a full turn meet, only one of them has the number
        meets = plan.full_turn and number == len(plan.strips) and degree == strip.last
        words = "TDC" if degree == 0 else str(abs(degree))
        place = laid.at(degree) - (0.5 if meets else 0), bottom - _TENS - 1.2
        size = min(_TYPE, plan.along(10) / 2)  # on a small rim the numbers stand close
        if meets and 1.5 * width_of(words, size) + 1 > plan.along(10):
            continue
        picture.text(place, words, size, "end" if meets else "middle", bold=degree == 0, kind="number")


def _draw_sides(picture: Picture, laid: _PlacedStrip) -> None:
    """The name of each side over its part of the strip, as long as there is room for it."""
    first, last = laid.ends
    centre = min(max(laid.at(0), first), last)
    for left, right in ((first, centre), (centre, last)):
        names = _names(laid.plan, left=right == centre)
        fitting = [name for name in names if width_of(name, _SMALL) < right - left - 2]
        if fitting:
            picture.text(((left + right) / 2, laid.top + 7.6), fitting[0], _SMALL, "middle", kind="side")


def _names(plan: TapePlan, *, left: bool) -> tuple[str, ...]:
    """What the side left or right of top dead centre is called, the longest first."""
    if plan.clockwise is None:
        turning = Rotation.CLOCKWISE if left else Rotation.ANTICLOCKWISE
        return f"before if it turns {turning}, else after", f"BTDC if {turning}"
    if left == plan.before_left:
        return "before top dead centre (BTDC)", "BTDC"
    return "after top dead centre (ATDC)", "ATDC"


def _draw_target(picture: Picture, laid: _PlacedStrip) -> list[Box]:
    """Draw a mark over the target's tick and its words on the upper edge; returns the boxes that they take up."""
    target = laid.plan.target
    low, high = sorted((laid.strip.first, laid.strip.last))
    if target is None or not low <= target <= high:
        return []
    x, bottom = laid.at(float(target)), laid.top + HEIGHT
    picture.line((x, bottom - _ONES), (x, bottom), 0.45, kind="target-tick")
    upper = bottom - 6.6
    picture.polygon([(x, bottom - _ONES), (x - 1.1, upper), (x + 1.1, upper)], kind="target", thickness=0.1)
    words = f"target {plain_angle(target)}"
    half = width_of(words, _SMALL, bold=True) / 2 + 0.5
    first, last = laid.ends
    middle = max(first + half, min(last - half, x)) if last - first > 2 * half else (first + last) / 2
    picture.text((middle, laid.top + 3.4), words, _SMALL, "middle", bold=True)
    return [box_of(middle, laid.top + 3.4, words, _SMALL, "middle", bold=True)]


def _draw_turning(picture: Picture, laid: _PlacedStrip, taken: list[Box]) -> None:
    """An arrow for the direction in which the tape passes the pointer, at an end of the strip that has room."""
    way = {True: -1, False: 1, None: 0}[laid.plan.clockwise]
    words, (first, last) = "flywheel goes", laid.ends
    wide = width_of(words, _SMALL) + 12
    for left in (first + 1, last - wide - 1):
        room = Box(left, laid.top, left + wide, laid.top + 4, words)
        if way and first <= left and left + wide <= last and not any(room.overlaps(other) for other in taken):
            x, y = left + width_of(words, _SMALL) + 1, laid.top + 2.4
            picture.text((left, laid.top + 3.4), words, _SMALL)
            start, end = (x + 10, x) if way < 0 else (x, x + 10)
            picture.line((start, y), (end - way * 2, y), 0.4)
            back = end - way * 2.6
            picture.polygon([(end, y), (back, y - 1.1), (back, y + 1.1)], kind="turning", thickness=0.1)
            return
