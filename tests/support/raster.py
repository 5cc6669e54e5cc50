"""Measuring a page as a printer would lay it down: rows of pixels of a PDF or of an SVG, and the ink in them.

A PDF is rasterised by pypdfium2, an SVG by another program, typst, so that neither is held against itself.
"""

from __future__ import annotations

import struct
import zlib
from typing import Any

import pypdfium2
import typst

PER_INCH = 600
PER_MM = PER_INCH / 25.4


def pdf_page(document: bytes, page: int) -> tuple[Any, tuple[float, float]]:
    """A page as an array of pixels (rows, columns, colours), and its size in millimetres."""
    opened = pypdfium2.PdfDocument(document)
    try:
        found = opened[page]
        size = tuple(side / 72 * 25.4 for side in found.get_size())
        return found.render(scale=PER_INCH / 72).to_numpy().copy(), (size[0], size[1])
    finally:
        opened.close()


def pdf_words(document: bytes) -> list[str]:
    """The text of each page, as a reader would copy it."""
    opened = pypdfium2.PdfDocument(document)
    try:
        return [page.get_textpage().get_text_range() for page in opened]
    finally:
        opened.close()


def pdf_row(page: Any, y: float) -> list[float]:
    """How dark each pixel of the row at y millimetres is, from 0 to 1."""
    row: list[float] = (1 - page[round(y * PER_MM)].mean(axis=1) / 255).tolist()
    return row


_BAND = """
#set page(width: eval(sys.inputs.width), height: 0.2mm, margin: 0mm)
#box(clip: true, width: 100%, height: 100%, move(dy: eval(sys.inputs.up),
  image(bytes(sys.inputs.svg), format: "svg", width: eval(sys.inputs.width), height: eval(sys.inputs.height))))
"""


def svg_row(drawing: str, width: float, height: float, y: float) -> list[float]:
    """The same of an SVG, laid without scaling on a sheet of its own size in millimetres."""
    inputs = {"svg": drawing, "width": f"{width}mm", "height": f"{height}mm", "up": f"{0.1 - y}mm"}
    compiler = typst.Compiler(_BAND.encode(), ignore_system_fonts=True, sys_inputs=inputs)
    made = compiler.compile(format="png", ppi=PER_INCH)
    assert isinstance(made, bytes)
    rows, channels = png_rows(made)
    row = rows[len(rows) // 2]
    return [1 - sum(row[at : at + 3]) / 3 / 255 for at in range(0, len(row), channels)]


def png_rows(raw: bytes) -> tuple[list[bytearray], int]:
    """The rows of a PNG of eight bits a channel, and its channels; after RFC 2083, section 6 (from memory)."""
    width = channels = 0
    packed, at = b"", 8
    while at < len(raw):
        (length,), kind = struct.unpack(">I", raw[at : at + 4]), raw[at + 4 : at + 8]
        data = raw[at + 8 : at + 8 + length]
        if kind == b"IHDR":
            width, _, depth, colour = struct.unpack(">IIBB", data[:10])
            assert depth == 8
            channels = {0: 1, 2: 3, 4: 2, 6: 4}[colour]
        elif kind == b"IDAT":
            packed += data
        at += 12 + length
    assert channels in (3, 4)
    stream, stride = zlib.decompress(packed), width * channels
    rows, above = [], bytearray(stride)
    for start in range(0, len(stream), stride + 1):
        row = bytearray(stream[start + 1 : start + 1 + stride])
        _unfilter(stream[start], row, above, channels)
        rows.append(row)
        above = row
    return rows, channels


def _unfilter(kind: int, row: bytearray, above: bytearray, channels: int) -> None:
    for at in range(len(row)):
        left = row[at - channels] if at >= channels else 0
        corner = above[at - channels] if at >= channels else 0
        up = above[at]
        if kind == 4:
            guess = left + up - corner
            nearest = min((abs(guess - left), 0, left), (abs(guess - up), 1, up), (abs(guess - corner), 2, corner))
            row[at] = (row[at] + nearest[2]) & 255
        else:
            row[at] = (row[at] + (0, left, up, (left + up) // 2)[kind]) & 255


def ink(row: list[float]) -> list[float]:
    """Where the middle of each stroke across a row lies, in millimetres."""
    middles, weight, moment = [], 0.0, 0.0
    for at, dark in enumerate([*row, 0.0]):
        if dark > 0.02:
            weight, moment = weight + dark, moment + dark * (at + 0.5)
        elif weight:
            middles.append(moment / weight / PER_MM)
            weight = moment = 0.0
    return middles
