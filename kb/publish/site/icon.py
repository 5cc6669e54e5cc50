"""Our mark: the head of a screw with its slot turned, and a tick on the rim above it. Made, not kept."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Mapping
from functools import cache

_DARK, _LIGHT, _MARK = (22, 19, 12), (250, 204, 21), (255, 255, 255)
_HEAD, _SLOT = 0.33, 0.055  # the head's radius and half the slot's width, in parts of the whole
_SLANT = (0.8, -0.6)  # the slot's direction: 36.9 degrees


@cache
def icon_files() -> Mapping[str, bytes]:
    """The mark as SVG and as PNG in two sizes, by paths in the site."""
    return {"icon.svg": _svg(), **{f"icon-{size}.png": _png(size) for size in (192, 512)}}


def _svg() -> bytes:
    def colour(parts: tuple[int, int, int]) -> str:
        return "#{:02x}{:02x}{:02x}".format(*parts)

    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-50 -50 100 100">'
        f'<rect x="-50" y="-50" width="100" height="100" fill="{colour(_DARK)}"/>'
        f'<circle cy="6" r="{_HEAD * 100:g}" fill="{colour(_LIGHT)}"/>'
        f'<path d="M-26.4 25.8 26.4-13.8" stroke="{colour(_DARK)}" stroke-width="{_SLOT * 200:g}"/>'
        f'<path d="M0-44V-32" stroke="{colour(_MARK)}" stroke-width="6"/></svg>'
    ).encode()


def _png(size: int) -> bytes:
    rows = bytearray()
    for y in range(size):
        rows.append(0)
        down = (y + 0.5) / size - 0.5
        for x in range(size):
            rows += bytes(_at((x + 0.5) / size - 0.5, down, 0.5 / size))
    head = struct.pack(">IIBBBBB", size, size, 8, 2, 0, 0, 0)
    chunks = ((b"IHDR", head), (b"IDAT", zlib.compress(bytes(rows), 9)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body)) for kind, body in chunks
    )


def _at(x: float, y: float, soft: float) -> tuple[int, ...]:
    """The colour at a place, its edges softened over so much."""
    if abs(x) < 0.03 and -0.44 <= y <= -0.32:
        return _MARK
    y -= 0.06
    distance = (x * x + y * y) ** 0.5 - _HEAD
    across = abs(x * -_SLANT[1] + y * _SLANT[0]) - _SLOT
    share = min(1.0, max(0.0, 0.5 - distance / (2 * soft))) * min(1.0, max(0.0, 0.5 + across / (2 * soft)))
    return tuple(round(dark + (light - dark) * share) for dark, light in zip(_DARK, _LIGHT, strict=True))
