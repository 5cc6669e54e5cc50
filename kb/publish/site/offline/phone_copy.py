"""What a phone keeps: the pack, the finding index, the pages and scripts of the bench, and the worker that answers
from them. Few requests, each file known by its checksum."""

from __future__ import annotations

import hashlib
import json
import struct
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from kb.book.model.engine_ranges import Document
from kb.publish.site.columns import compressed
from kb.publish.site.finding.index_files import INDEX
from kb.publish.site.icon import icon_files, icons
from kb.publish.site.offline.bundle import one_script
from kb.publish.site.offline.pack import FOLDER

_TYPES = {
    "html": "text/html; charset=utf-8",
    "css": "text/css",
    "js": "text/javascript",
    "svg": "image/svg+xml",
    "json": "application/json",
    "webmanifest": "application/manifest+json",
    "png": "image/png",
}

_WORKER, _COPY = "offline/worker.js", "offline/copy.js"
"""The worker's module, and the module with the list of kept files that it imports, which is generated here."""

TITLE, BODY, TEMPLATE = "\ue000\ue001\ue002"
"""Placeholders in the frame that the worker draws with: for a page's title and its body, and before the template."""

READ_AT_THE_ENGINE = ("read/what", "read/page", "read/trust", "read/routine", "read/cautions", "about")
"""The chapters that are kept for use without signal; contributors and programmers are online."""

MISSING = """\
<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">
<title>Not in this copy</title><h1>Not in this copy</h1>
<p>There is no signal, and this page is not in the copy on this phone. <a href="{root}">Find a family</a>
</html>
"""


NO_DRAWING = """\
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 390 64" role="img" font-family="sans-serif" font-size="15">
  <title>Not in this copy</title>
  <text x="12" y="26">The drawing is not in the copy on this phone.</text>
  <text x="12" y="48">Its figures stand in words on this page.</text>
</svg>
"""
"""Shown instead of a family's drawing: with the drawings of all families the pack would be nearly twice as large."""


def offline_files(
    pack: Mapping[str, bytes],
    *,
    read: Callable[[str], str],
    shell: Mapping[str, bytes],
    index: bytes,
    frame: str,
    template: str,
    shared: Document,
    date: str,
    families: int,
    built: str = "",
    withdrawn: Iterable[Document] = (),
) -> Mapping[str, bytes]:
    """The kept files and the worker that keeps them, by paths in the site; the same input gives the same bytes. What a
    family is drawn with is a small file of its own, so that a phone need not unpack everything for one page.

    ``pack`` are the files that hold every family; ``read`` gives a browser module's text by its path, of which
    ``offline/worker.js`` and ``offline/draw.js`` are two, the latter with ``draw(document, template, shared)`` for a
    page's HTML;
    ``shell`` are the files of the site to be kept besides, by path; ``index`` is the finding index; ``frame`` (with
    TITLE and BODY in it), ``template`` and ``shared`` what the worker draws a family with; ``built`` the day of the
    build, if its age is to be shown; ``withdrawn`` the entries of withdrawn.yaml.
    """
    files = dict(icon_files())
    files["manifest.webmanifest"] = _manifest()
    drawing = {
        f"{FOLDER}/family.html": f"{frame}{TEMPLATE}{template}",
        "shared.json": _json(shared),
        f"{FOLDER}/missing.html": MISSING,
        f"{FOLDER}/no-drawing.svg": NO_DRAWING,
    }
    bundles = {"drawing": {path: text.encode() for path, text in drawing.items()}, "shell": {**shell, **files}}
    files |= {**pack} | {f"{FOLDER}/{name}.bin": _bundled(inner) for name, inner in bundles.items()}
    cached = {path: content for path, content in files.items() if path.startswith(f"{FOLDER}/")} | {INDEX: index}
    sums = {path: hashlib.sha256(content).hexdigest() for path, content in sorted(cached.items())}
    code = one_script(lambda name: "export const COPY = {};\n" if name == _COPY else read(name), _WORKER)
    digest = hashlib.sha256(json.dumps([sums, code, date]).encode()).hexdigest()[:16]
    copy = {"hash": digest, "date": date, "built": built, "families": families, "files": sums}
    with_copy = f"export const COPY = {_json(copy)};\n"
    script = one_script(lambda name: with_copy if name == _COPY else read(name), _WORKER)
    files["worker.js"] = script.encode()
    files["version.json"] = _json({"hash": digest, "date": date}).encode()
    files["withdrawn.json"] = _json({"withdrawn": [_withdrawn(entry) for entry in withdrawn]}).encode()
    return files


def shell_of(stage: Path, assets: Path) -> Mapping[str, bytes]:
    """The files of a built site that are kept besides the families, by path: the start page, the bench, the job, the
    pages to read at the engine, and the scripts and styles in ``assets``, those of the job as they are joined."""
    paths = [stage / "index.html", *(stage / "bench").rglob("*"), *(stage / "job").rglob("*")]
    paths += [stage / chapter / "index.html" for chapter in READ_AT_THE_ENGINE]
    paths += [stage / "assets" / path.relative_to(assets) for path in assets.rglob("*") if not _is_joined(path, assets)]
    paths += [stage / "assets" / "reading.css"]
    return {path.relative_to(stage).as_posix(): path.read_bytes() for path in sorted(paths) if path.is_file()}


def _is_joined(path: Path, assets: Path) -> bool:
    return path.is_relative_to(assets / "job")


def requests_and_bytes(files: Mapping[str, bytes], index: bytes) -> tuple[int, int]:
    """The number of requests for a copy, and of bytes transferred."""
    fetched = [content for path, content in files.items() if path.startswith(f"{FOLDER}/")]
    return len(fetched) + 2, sum(map(len, fetched)) + len(index) + len(compressed(files["worker.js"]))


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def _bundled(files: Mapping[str, bytes]) -> bytes:
    """Files joined into one, after a list of their paths, types and lengths."""
    listed = [
        [path, _TYPES.get(path.rpartition(".")[2], "application/octet-stream"), len(content)]
        for path, content in sorted(files.items())
    ]
    header = _json(listed).encode()
    return compressed(
        struct.pack("<I", len(header)) + header + b"".join(content for _, content in sorted(files.items()))
    )


def _withdrawn(entry: Document) -> Document:
    """A withdrawn statement, with a description in words."""
    statement = entry["statement"]
    words = [str(statement["figure"]), str(statement.get("state", ""))]
    if "source" in statement:
        page = f", page {statement['page']}" if "page" in statement else ""
        words.append(f"of {statement['source']}{page}")
    return {
        "family": statement["family"],
        "figure": statement["figure"],
        "told": " ".join(filter(None, words)),
        "since": entry.get("since", ""),
        "because": entry.get("because", ""),
    }


def _manifest() -> bytes:
    about = {
        "name": "Stopscrew",
        "short_name": "Stopscrew",
        "start_url": "./",
        "scope": "./",
        "id": "./",
        "display": "standalone",
        "background_color": "#fffdf6",
        "theme_color": "#14110a",
        "icons": icons(),
        "description": "Spark timing and throttle linkage of old outboard engines, every figure with its source",
    }
    return json.dumps(about, indent=1).encode()
