"""The flywheel as a small circle, true to scale: a degree of the crank is a degree of the circle."""

from __future__ import annotations

from functools import lru_cache
from math import cos, radians, sin
from typing import NamedTuple

from kb.publish.drawings.handedness import degrees_clockwise
from kb.publish.drawings.picture import Picture, Point, number, points
from kb.publish.drawings.rim_view import RimView
from kb.vocabulary.engine import MarksOn

RADIUS = 68.0
_RING = 16.0
_GAP = 4.0
"""Between the flywheel and a scale that stands around it."""
HEIGHT = 2 * (RADIUS + _GAP + _RING) + 44
"""The height of the circle with the words below it."""
TYPE = 12.0


class Face(NamedTuple):
    """The flywheel without any figure on it. There are few kinds, so their drawings are cached."""

    middle: Point
    clockwise: bool
    marks_on: str

    @property
    def on_flywheel(self) -> bool:
        """Whether the marks are on the flywheel, not on a fixed scale around it."""
        return self.marks_on == MarksOn.FLYWHEEL

    @property
    def ring(self) -> tuple[float, float]:
        """The inner and the outer edge of what bears the marks."""
        inner = RADIUS - _RING if self.on_flywheel else RADIUS + _GAP
        return inner, inner + _RING

    def place(self, before: float, radius: float) -> Point:
        """Where an angle before top dead centre lies."""
        return around(self.middle, degrees_clockwise(before, clockwise=self.clockwise, marks_on=self.marks_on), radius)


def draw_wheel(picture: Picture, view: RimView, middle_x: float, top: float, fills: dict[str, str]) -> None:
    """Draw the flywheel at top dead centre by its marks, the pointer towards the reader; ``fills`` by figure."""
    face = Face((middle_x, top + RADIUS + _GAP + _RING), view.clockwise, view.marks_on)
    inner, outer = face.ring
    picture.shapes += _flywheel(face)
    half = (inner + outer) / 2
    rooms = {"throttle-pickup": (half, outer), "idle-timing": (inner, half)}
    for band in view.bands:
        late, early = float(band.late + view.dead_centre), float(band.early + view.dead_centre)
        low, high = rooms.get(band.figure, (inner, outer))
        if late == early:
            picture.line(face.place(late, low), face.place(late, high), 2.4, kind=f"wheel-{band.figure}")
        else:
            sector = _sector(face, late, early, low, high)
            picture.path(sector, 0.8, fill=fills[band.figure], kind=f"wheel-{band.figure}")
    picture.shapes += _marks(face, tuple(map(float, view.numbered)))
    if view.dead_centre:
        shown = float(view.dead_centre)
        picture.line(face.place(shown, inner - 6), face.place(shown, outer), 1.2, "3 2")
    if view.target is not None:
        target = float(view.target)
        tip, back, half_width = (inner - 1, inner - 10, 5) if face.on_flywheel else (outer + 1, outer + 9, 3)
        corners = ((target, tip), (target - half_width, back), (target + half_width, back))
        picture.polygon([face.place(before, radius) for before, radius in corners], kind="wheel-target")
    picture.shapes += _pointer(face)
    baseline = face.middle[1] + RADIUS + _GAP + _RING + 22
    picture.text((middle_x, baseline), "TDC", TYPE, "middle", bold=True)
    before_left = degrees_clockwise(1, clockwise=view.clockwise, marks_on=view.marks_on) > 0
    left, right = ("before", "after") if before_left else ("after", "before")
    picture.text((middle_x - 24, baseline), left, TYPE, "end")
    picture.text((middle_x + 24, baseline), right, TYPE)
    picture.text((middle_x, baseline + 16), "true to scale", TYPE, "middle")


@lru_cache(maxsize=1024)
def _sector(face: Face, late: float, early: float, low: float, high: float) -> str:
    shape = [face.place(late + (early - late) * step / 16, high) for step in range(17)]
    shape += [face.place(early + (late - early) * step / 16, low) for step in range(17)]
    return points(shape, "Z")


@lru_cache(maxsize=256)
def _marks(face: Face, numbered: tuple[float, ...]) -> tuple[str, ...]:
    """The numbered marks, the mark of top dead centre, and the edge of a fixed scale."""
    picture, (inner, outer), ends = Picture("marks", 0), face.ring, (*numbered, 0.0)
    for mark in ends:
        picture.line(
            face.place(mark, inner),
            face.place(mark, outer - (0 if mark == 0 else _RING / 2)),
            2.2 if mark == 0 else 1,
            kind="wheel-mark",
        )
    if not face.on_flywheel:
        first, last = min(ends), max(ends)
        picture.path(points([face.place(first + (last - first) * step / 24, inner) for step in range(25)]), 1)
    return tuple(picture.shapes)


def around(middle: Point, clockwise: float, radius: float) -> Point:
    """The point ``clockwise`` degrees clockwise of the lowest point of a circle, the one nearest to the reader.

    >>> [round(place) for place in around((0, 0), 90, 10)]
    [-10, 0]
    """
    return middle[0] - radius * sin(radians(clockwise)), middle[1] + radius * cos(radians(clockwise))


@lru_cache(maxsize=64)
def _flywheel(face: Face) -> tuple[str, ...]:
    """The flywheel's edge and hub, and an arrow in its direction of rotation, from the far side to the near one."""
    picture = Picture("flywheel", 0)
    picture.circle(face.middle, RADIUS, 1.6)
    picture.circle(face.middle, 5)
    radius, way = RADIUS * 0.48, 1 if face.clockwise else -1
    start, end = around(face.middle, -115 * way, radius), around(face.middle, 115 * way, radius)
    sweep = 1 if face.clockwise else 0
    picture.path(
        f"M{number(start[0])} {number(start[1])}A{number(radius)} {number(radius)} 0 1 {sweep} "
        f"{number(end[0])} {number(end[1])}",
        1.6,
        kind="turning",
    )
    corners = ((133, radius), (112, radius - 5), (112, radius + 5))
    picture.polygon([around(face.middle, turned * way, out) for turned, out in corners])
    return tuple(picture.shapes)


@lru_cache(maxsize=64)
def _pointer(face: Face) -> tuple[str, ...]:
    """The pointer: beside the flywheel, or on it where the scale stands around it."""
    picture = Picture("pointer", 0)
    tip, back = (RADIUS + 2, RADIUS + 16) if face.on_flywheel else (RADIUS - 1, RADIUS - 15)
    corners = ((0, tip), (-6, back), (6, back))
    picture.polygon([around(face.middle, turned, radius) for turned, radius in corners], fill="none", kind="pointer")
    return tuple(picture.shapes)
