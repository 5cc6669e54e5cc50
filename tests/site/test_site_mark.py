"""One mark, everywhere: as a drawing and as pictures of the sizes they say, whole in what a launcher leaves of it."""

from __future__ import annotations

import json
import struct
import zlib
from collections.abc import Mapping
from xml.etree import ElementTree

import pytest

from kb.publish.site.frame import Frame
from kb.publish.site.icon import icon_files
from kb.publish.site.offline.phone_copy import offline_files
from tests.support.folders import ASSETS

GROUND, INK = (255, 216, 74), (20, 17, 10)


def pixels(picture: bytes) -> list[list[tuple[int, ...]]]:
    """The colours of a picture with a palette and without filters, row by row."""
    place, chunks = 8, dict[bytes, bytes]()
    while place < len(picture):
        length, kind = struct.unpack(">I4s", picture[place : place + 8])
        body = picture[place + 8 : place + 8 + length]
        assert struct.unpack(">I", picture[place + 8 + length : place + 12 + length])[0] == zlib.crc32(kind + body)
        chunks[kind] = body
        place += 12 + length
    width, height, depth, coloured, *_ = struct.unpack(">IIBBBBB", chunks[b"IHDR"])
    assert (depth, coloured) == (8, 3)
    palette = [tuple(chunks[b"PLTE"][at : at + 3]) for at in range(0, len(chunks[b"PLTE"]), 3)]
    rows = zlib.decompress(chunks[b"IDAT"])
    assert len(rows) == height * (width + 1)
    return [[palette[one] for one in rows[y * (width + 1) + 1 : (y + 1) * (width + 1)]] for y in range(height)]


@pytest.fixture(scope="module")
def manifest() -> Mapping[str, object]:
    kept = offline_files(
        {},
        read=lambda name: (ASSETS / name).read_text("utf-8"),
        shell={},
        index=b"",
        frame="",
        template="",
        shared={},
        date="2026-11-01",
        families=0,
    )
    return dict(json.loads(kept["manifest.webmanifest"]))


def test_the_manifest_names_pictures_of_the_sizes_that_they_have(manifest: Mapping[str, list[dict[str, str]]]) -> None:
    files, told = icon_files(), manifest["icons"]
    assert {one["sizes"] for one in told if one["type"] == "image/png"} == {"192x192", "512x512"}
    assert [one["src"] for one in told if one.get("purpose") == "maskable"] == ["icon-maskable-512.png"]
    for one in told:
        content = files[one["src"]]
        if one["type"] == "image/png":
            assert "x".join(map(str, struct.unpack(">II", content[16:24]))) == one["sizes"]
        else:
            assert ElementTree.fromstring(content).tag == "{http://www.w3.org/2000/svg}svg"
    assert sum(map(len, files.values())) < 10_000, "every phone keeps them"


@pytest.mark.parametrize("name", [name for name in icon_files() if name.endswith(".png")])
def test_the_mark_is_in_two_colours_and_touches_no_edge(name: str) -> None:
    rows = pixels(icon_files()[name])
    edge = {*rows[0], *rows[-1], *(row[0] for row in rows), *(row[-1] for row in rows)}
    assert edge == {GROUND}
    inked = sum(one == INK for row in rows for one in row) / len(rows) ** 2
    assert inked > (0.13 if "maskable" in name else 0.25), "big enough to be seen"


def test_a_launchers_circle_leaves_the_whole_mark() -> None:
    """The safe zone of a maskable icon is a circle of two fifths of its width: W3C Web Application Manifest, icon masks
    and safe zone (from memory)."""
    rows = pixels(icon_files()["icon-maskable-512.png"])
    middle, reach = len(rows) / 2, 0.4 * len(rows)
    outside = [
        (x, y)
        for y, row in enumerate(rows)
        for x, one in enumerate(row)
        if one != GROUND and (x + 0.5 - middle) ** 2 + (y + 0.5 - middle) ** 2 > reach**2
    ]
    assert outside == []


def test_every_page_links_it_and_there_is_no_other() -> None:
    page = Frame("").page("a title", "", "../../")
    assert '<link rel="icon" type="image/svg+xml" href="../../icon.svg">' in page
    assert '<link rel="apple-touch-icon" href="../../icon-180.png">' in page
    assert list(ASSETS.rglob("*.svg")) == []
    css = (ASSETS / "page.css").read_text("utf-8")
    for colour in (GROUND, INK):
        assert "#{:02x}{:02x}{:02x}".format(*colour) in css, "the page's own colours"
