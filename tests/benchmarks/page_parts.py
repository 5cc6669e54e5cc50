"""What a family's page costs in its parts, each beside a plain tool that does the least of the same."""

from __future__ import annotations

import json
import re
import shutil
import tempfile
import zlib
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from time import process_time
from typing import Any, NamedTuple
from xml.etree import ElementTree

from jinja2 import Environment

from kb.book.book import Book
from kb.publish.drawings.rim import rim_drawing
from kb.publish.site.build import Builder
from kb.publish.site.family.document import family_page, job_order
from kb.publish.site.offline.pack import pack_files

_TEXT = re.compile(r"([^<>]*)(<[^>]*>)")
_PLAIN = "{% for words, markup in pieces %}{{ words }}{{ markup|safe }}{% endfor %}"
_ROUNDS = 3


class Part(NamedTuple):
    """One part: what it is, its seconds a page, its peer in words, and the peer's seconds."""

    what: str
    seconds: float
    peer: str
    peer_seconds: float


def parts(book: Book, count: int) -> Iterator[Part]:
    """Every part of making the first so many pages of a book, by the building's own code."""
    builder, ids, order = Builder(book), sorted(book.family_ids())[:count], job_order(book)
    pages = [family_page(book, key, order) for key in ids]
    html = [builder.family_html(page) for page in pages]
    rims = [rim_drawing(book, key) for key in ids]
    told = [json.dumps(page) for page in pages]

    yield Part(
        "document",
        _each(lambda key: family_page(book, key, order), ids),
        "json.loads of the document",
        _each(json.loads, told),
    )
    yield Part(
        "page",
        _each(builder.family_html, pages),
        "jinja2, the page's ready texts in a plain loop",
        _each(_plain_page(), [{"pieces": _TEXT.findall(one)} for one in html]),
    )
    yield Part(
        "drawing",
        _each(lambda key: rim_drawing(book, key), ids),
        "ElementTree writing the ready drawing",
        _each(ElementTree.tostring, [ElementTree.fromstring(one) for one in rims]),
    )
    yield Part("document as JSON", _each(json.dumps, pages), "the same", _each(json.dumps, pages))
    packed = min(_seconds(lambda: pack_files(pages)) for _ in range(_ROUNDS)) / len(pages)
    yield Part(
        "packing", packed, "zlib of each document by itself", _each(lambda text: zlib.compress(text.encode(), 6), told)
    )
    with tempfile.TemporaryDirectory() as folder:
        yield Part("writing", *_written(Path(folder), list(zip(html, told, rims, strict=True))))


def _plain_page() -> Callable[[dict[str, Any]], str]:
    """The least that a template of that size costs: nothing is looked up or decided, all texts are escaped."""
    template = Environment(autoescape=True).from_string(_PLAIN)
    return lambda given: template.render(given)


def _written(folder: Path, files: Sequence[tuple[str, ...]]) -> tuple[float, str, float]:
    """Three files a family as the building writes them; its peer writes their texts as one file."""

    def apart() -> None:
        for number, texts in enumerate(files):
            place = folder / "apart" / str(number)
            place.mkdir(parents=True)
            for name, text in zip(("index.html", "page.json", "rim.svg"), texts, strict=True):
                (place / name).write_bytes(text.encode())

    def together() -> None:
        for number, texts in enumerate(files):
            (folder / f"{number}.txt").write_bytes("".join(texts).encode())

    best = [float("inf"), float("inf")]
    for _ in range(_ROUNDS):
        for at, task in enumerate((apart, together)):
            best[at] = min(best[at], _seconds(task) / len(files))
        shutil.rmtree(folder / "apart")
    return best[0], "one file of the same bytes", best[1]


def _each(task: Callable[[Any], object], given: Sequence[Any]) -> float:
    """Seconds of processor time for one: the best of some rounds over all."""

    def all_of_them() -> None:
        for one in given:
            task(one)

    return min(_seconds(all_of_them) for _ in range(_ROUNDS)) / len(given)


def _seconds(task: Callable[[], object]) -> float:
    start = process_time()
    task()
    return process_time() - start
