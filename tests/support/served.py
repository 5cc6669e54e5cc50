"""A small host of files for browser tests: under a sub-path, caching for ten minutes, and failing when told to."""

from __future__ import annotations

import gzip
import mimetypes
import sys
import threading
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

SUB_PATH = "/some/where/"


class _Server(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A page that is closed before its answer came is no fault."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


class Host:
    """``files`` are what it serves by path; ``mode`` is ok, stopped, hung (it never answers), or cut (large files half
    sent). What stands below ``tools`` it serves when stopped too: a test works with that, and no page asks for it.
    ``asked`` are the paths it was asked for; ``presses`` says whether it presses texts, as most hosts do.
    """

    def __init__(self, files: Mapping[str, bytes], *, presses: bool = False) -> None:
        self.files = dict(files)
        self.presses = presses
        self.mode = "ok"
        self.tools: tuple[str, ...] = ()
        self.asked: list[str] = []
        self.ended = threading.Event()
        host = self

        class Handler(BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.1"

            def do_GET(self) -> None:
                host.answer(self)

            def log_message(self, format: str, *arguments: object) -> None:
                pass

        self.server = _Server(("127.0.0.1", 0), Handler)
        self.address = f"http://localhost:{self.server.server_port}{SUB_PATH}"

    def answer(self, request: BaseHTTPRequestHandler) -> None:
        """One request."""
        path = request.path.partition("?")[0]
        if self.mode == "stopped" and not path.removeprefix(SUB_PATH).startswith(self.tools):
            request.close_connection = True
            return
        if self.mode == "hung":
            self.ended.wait()
            request.close_connection = True
            return
        path = path.removeprefix(SUB_PATH) if path.startswith(SUB_PATH) else "\0"
        path += "index.html" if path == "" or path.endswith("/") else ""
        self.asked.append(path)
        content = self.files.get(path)
        request.send_response(404 if content is None else 200)
        content = b"nothing here" if content is None else content
        request.send_header("Content-Type", mimetypes.guess_type(path)[0] or "application/octet-stream")
        if self.presses and not path.endswith((".bin", ".png")):
            content = gzip.compress(content, 6)
            request.send_header("Content-Encoding", "gzip")
        request.send_header("Content-Length", str(len(content)))
        request.send_header("Cache-Control", "max-age=600")
        request.end_headers()
        if self.mode == "cut" and "part-" in path:
            request.wfile.write(content[: len(content) // 2])
            request.close_connection = True
            return
        request.wfile.write(content)


@contextmanager
def served(files: Mapping[str, bytes], *, presses: bool = False) -> Iterator[Host]:
    """A running host; it ends with the block."""
    mimetypes.add_type("text/javascript", ".js")
    mimetypes.add_type("application/manifest+json", ".webmanifest")
    host = Host(files, presses=presses)
    thread = threading.Thread(target=host.server.serve_forever, args=(0.05,), daemon=True)
    thread.start()
    try:
        yield host
    finally:
        host.ended.set()
        host.server.shutdown()
        host.server.server_close()


def files_below(place: Path) -> Mapping[str, bytes]:
    """Every file below a folder by its path from there."""
    return {file.relative_to(place).as_posix(): file.read_bytes() for file in place.rglob("*") if file.is_file()}
