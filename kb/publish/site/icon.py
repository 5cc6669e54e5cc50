"""The project's icon: a stop screw, seen from the side, its tip against the stop; one drawing for every size."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from math import ceil

_GROUND, _INK = (255, 216, 74), (20, 17, 10)  # page.css has the same two
_GRID = 48  # at 16 pixels three of these are one, so that edges on threes stay sharp
_SCREW = (
    # whether in ink or in the ground's colour, and the corners; each shape is convex, and overlaps its neighbour
    (True, ((36, 6), (42, 6), (42, 42), (36, 42))),  # the stop
    (True, ((6, 9), (15, 9), (15, 39), (6, 39))),  # the screw's head
    (False, ((5, 22), (10.5, 22), (10.5, 26), (5, 26))),  # its slot
    (True, ((14, 15), (29, 15), (37, 22), (37, 26), (29, 33), (14, 33))),  # its shank and tip
    (False, ((19.8, 14), (22.6, 14), (19, 34), (16.2, 34))),  # the thread
    (False, ((25.8, 14), (28.6, 14), (25, 34), (22.2, 34))),
)
_SAFE = 0.74  # small enough for the circle that every launcher keeps of a maskable icon
_LEVELS, _SAMPLES = 16, 4

ICON = "icon.svg"
"""The icon for pages, by its path in the site."""
TOUCH_ICON = "icon-180.png"
"""The icon for home screens that read no manifest."""


@cache
def icon_files() -> Mapping[str, bytes]:
    """The icon as SVG and PNG, by paths in the site."""
    pictures = {f"icon-{size}.png": _png(size, 1.0) for size in (180, 192, 512)}
    return {ICON: _svg(), **pictures, "icon-maskable-512.png": _png(512, _SAFE)}


def icons() -> list[Mapping[str, str]]:
    """The icons' entries in the manifest."""
    pictures = [{"src": f"icon-{size}.png", "type": "image/png", "sizes": f"{size}x{size}"} for size in (192, 512)]
    maskable = {"src": "icon-maskable-512.png", "type": "image/png", "sizes": "512x512", "purpose": "maskable"}
    return [{"src": ICON, "type": "image/svg+xml", "sizes": "any"}, *pictures, maskable]


def _svg() -> bytes:
    ground, ink = ("#{:02x}{:02x}{:02x}".format(*colour) for colour in (_GROUND, _INK))
    shapes = "".join(
        f'<path fill="{ink if inked else ground}" d="M{" ".join(f"{x:g} {y:g}" for x, y in corners)}z"/>'
        for inked, corners in _SCREW
    )
    box = f'viewBox="0 0 {_GRID} {_GRID}"'
    rect = f'<rect width="{_GRID}" height="{_GRID}" rx="8" fill="{ground}"/>'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {box}>{rect}{shapes}</svg>\n'.encode()


def _png(size: int, scale: float) -> bytes:
    """The icon as PNG with a palette from background to ink; ``scale`` is the share of the square that it fills."""
    palette = b"".join(
        bytes(round(ground + (ink - ground) * level / _LEVELS) for ground, ink in zip(_GROUND, _INK, strict=True))
        for level in range(_LEVELS + 1)
    )
    head = struct.pack(">IIBBBBB", size, size, 8, 3, 0, 0, 0)
    rows = b"".join(b"\0" + _row(size, scale, y) for y in range(size))
    chunks = ((b"IHDR", head), (b"PLTE", palette), (b"IDAT", zlib.compress(rows, 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body)) for kind, body in chunks
    )


def _row(size: int, scale: float, y: int) -> bytes:
    """One row of pixels: the ink in each."""
    share = [0.0] * size
    for inked, corners in _SCREW:
        if not (spans := list(_spans(size, scale, y, corners))):
            continue
        first, last = min(int(left) for left, _ in spans), min(size, max(int(right) for _, right in spans) + 1)
        start, end = max(ceil(left) for left, _ in spans), min(int(right) for _, right in spans)
        if len(spans) < _SAMPLES or end < start:
            start = end = last
        share[start:end] = [float(inked)] * (end - start)  # wholly covered: most of a shape
        for x in (*range(first, start), *range(end, last)):
            covered = sum(max(0.0, min(right, x + 1) - max(left, x)) for left, right in spans) / _SAMPLES
            share[x] = share[x] + covered * (1 - share[x]) if inked else share[x] * (1 - covered)
    return bytes([round(_LEVELS * one) for one in share])


def _spans(size: int, scale: float, y: int, corners: Sequence[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    """From where to where a shape covers a row of pixels, at each height that is looked at within the row."""
    unit, middle = size * scale / _GRID, size / 2
    for sample in range(_SAMPLES):
        level = _GRID / 2 + (y + (sample + 0.5) / _SAMPLES - middle) / unit
        ends = [
            x + (level - y1) * (other - x) / (y2 - y1)
            for (x, y1), (other, y2) in zip(corners, (*corners[1:], corners[0]), strict=True)
            if min(y1, y2) <= level < max(y1, y2)
        ]
        if ends:
            yield middle + (min(ends) - _GRID / 2) * unit, middle + (max(ends) - _GRID / 2) * unit
