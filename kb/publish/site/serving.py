"""Serves a built site on the loopback address, for a browser on the same machine."""

from __future__ import annotations

import sys
from functools import partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

_TYPES = {".js": "text/javascript", ".webmanifest": "application/manifest+json"}


class _Quiet(SimpleHTTPRequestHandler):
    extensions_map = SimpleHTTPRequestHandler.extensions_map | _TYPES

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """Answer a missing file with the site's own page for that."""
        page = Path(self.directory) / "404.html"
        if code != HTTPStatus.NOT_FOUND or not page.is_file():
            super().send_error(code, message, explain)
            return
        content = page.read_bytes()
        self.send_response(code)
        self.send_header("Content-Type", "text/html; charset=utf-8")
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)

    def log_message(self, format: str, *args: Any) -> None:
        """Do not log requests."""


class _Server(ThreadingHTTPServer):
    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that closes the connection early is not an error."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


def server_of(place: Path, port: int) -> ThreadingHTTPServer:
    """A server of a folder on the loopback address; port 0 takes a free one.

    Raises:
        OSError: the port is taken.
    """
    return _Server(("127.0.0.1", port), partial(_Quiet, directory=str(place)))
