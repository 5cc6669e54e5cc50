"""The flywheel as a small circle, true to scale: a degree of the crank is a degree of the circle."""

from __future__ import annotations

from math import cos, radians, sin

from kb.publish.drawings.handedness import FLYWHEEL, degrees_clockwise
from kb.publish.drawings.picture import Picture, Point, number
from kb.publish.drawings.rim_view import RimView

RADIUS = 68.0
_RING = 16.0
_GAP = 4.0
"""Between the flywheel and a scale that stands around it."""
HEIGHT = 2 * (RADIUS + _GAP + _RING) + 44
"""How much room the circle takes with the words below it."""
TYPE = 12.0


def draw_wheel(picture: Picture, view: RimView, middle_x: float, top: float, fills: dict[str, str]) -> None:
    """Draw the flywheel at top dead centre by its marks, the pointer towards the reader; ``fills`` by figure."""
    middle = (middle_x, top + RADIUS + _GAP + _RING)
    on_flywheel = view.marks_on == FLYWHEEL
    inner = RADIUS - _RING if on_flywheel else RADIUS + _GAP
    outer = inner + _RING
    picture.circle(middle, RADIUS, 1.6)
    picture.circle(middle, 5)
    _draw_turning(picture, view, middle)

    def place(before: float, radius: float) -> Point:
        turned = degrees_clockwise(before, clockwise=view.clockwise, marks_on=view.marks_on)
        return around(middle, turned, radius)

    def sector(late: float, early: float, low: float, high: float) -> str:
        shape = [place(late + (early - late) * step / 16, high) for step in range(17)]
        shape += [place(early + (late - early) * step / 16, low) for step in range(17)]
        return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in shape) + "Z"

    half = (inner + outer) / 2
    rooms = {"throttle-pickup": (half, outer), "idle-timing": (inner, half)}
    for band in view.bands:
        late, early = float(band.late + view.dead_centre), float(band.early + view.dead_centre)
        low, high = rooms.get(band.figure, (inner, outer))
        if late == early:
            picture.line(place(late, low), place(late, high), 2.4, kind=f"wheel-{band.figure}")
        else:
            picture.path(sector(late, early, low, high), 0.8, fill=fills[band.figure], kind=f"wheel-{band.figure}")
    for mark in (*view.numbered, 0):
        picture.line(
            place(float(mark), inner), place(float(mark), outer - (0 if mark == 0 else _RING / 2)),
            2.2 if mark == 0 else 1, kind="wheel-mark",
        )  # fmt: skip
    if not on_flywheel:
        ends = [float(end) for end in (*view.numbered, 0)]
        arc_of_scale = [place(min(ends) + (max(ends) - min(ends)) * step / 24, inner) for step in range(25)]
        picture.path("M" + "L".join(f"{number(x)} {number(y)}" for x, y in arc_of_scale), 1)
    if view.dead_centre:
        picture.line(place(float(view.dead_centre), inner - 6), place(float(view.dead_centre), outer), 1.2, "3 2")
    if view.target is not None:
        target = float(view.target)
        tip, back, half_width = (inner - 1, inner - 10, 5) if on_flywheel else (outer + 1, outer + 9, 3)
        corners = ((target, tip), (target - half_width, back), (target + half_width, back))
        picture.polygon([place(before, radius) for before, radius in corners], kind="wheel-target")
    tip, back = (RADIUS + 2, RADIUS + 16) if on_flywheel else (RADIUS - 1, RADIUS - 15)
    corners = ((0, tip), (-6, back), (6, back))
    picture.polygon([around(middle, turned, radius) for turned, radius in corners], fill="none", kind="pointer")
    baseline = middle[1] + RADIUS + _GAP + _RING + 22
    picture.text((middle_x, baseline), "TDC", TYPE, "middle", bold=True)
    before_left = degrees_clockwise(1, clockwise=view.clockwise, marks_on=view.marks_on) > 0
    left, right = ("before", "after") if before_left else ("after", "before")
    picture.text((middle_x - 24, baseline), left, TYPE, "end")
    picture.text((middle_x + 24, baseline), right, TYPE)
    picture.text((middle_x, baseline + 16), "true to scale", TYPE, "middle")


def around(middle: Point, clockwise: float, radius: float) -> Point:
    """The place so many degrees clockwise of the lowest point of a circle, which is the one nearest to the reader.

    >>> [round(place) for place in around((0, 0), 90, 10)]
    [-10, 0]
    """
    return middle[0] - radius * sin(radians(clockwise)), middle[1] + radius * cos(radians(clockwise))


def _draw_turning(picture: Picture, view: RimView, middle: Point) -> None:
    """An arrow that goes around with the flywheel, from the far side to the near one."""
    radius, way = RADIUS * 0.48, 1 if view.clockwise else -1
    start, end = around(middle, -115 * way, radius), around(middle, 115 * way, radius)
    sweep = 1 if view.clockwise else 0
    picture.path(
        f"M{number(start[0])} {number(start[1])}A{number(radius)} {number(radius)} 0 1 {sweep} "
        f"{number(end[0])} {number(end[1])}", 1.6, kind="turning",
    )  # fmt: skip
    corners = ((133, radius), (112, radius - 5), (112, radius + 5))
    picture.polygon([around(middle, turned * way, out) for turned, out in corners])
