"""Serving what was built on the loopback address, for one's own browser."""

from __future__ import annotations

from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

_TYPES = {".js": "text/javascript", ".webmanifest": "application/manifest+json"}


class _Quiet(SimpleHTTPRequestHandler):
    extensions_map = SimpleHTTPRequestHandler.extensions_map | _TYPES

    def log_message(self, format: str, *args: Any) -> None:
        """Say nothing of each request."""


def server_of(place: Path, port: int) -> ThreadingHTTPServer:
    """A server of a folder on the loopback address; port 0 takes a free one.

    Raises:
        OSError: the port is taken.
    """
    return ThreadingHTTPServer(("127.0.0.1", port), partial(_Quiet, directory=str(place)))
