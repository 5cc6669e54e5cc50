"""A small client of the language server protocol: the yaml-language-server, run headless over its own pipes."""

from __future__ import annotations

import json
import os
import queue
import shutil
import subprocess
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from tests.support.folders import ROOT, TESTS
from tests.support.node import NODE, NPM

PINNED = TESTS / "editor"
HOME = ROOT / "build" / "editor"
SERVER = HOME / "node_modules" / "yaml-language-server" / "bin" / "yaml-language-server"

_WAIT = 30.0

Message = dict[str, Any]


def install() -> str:
    """Install the pinned server once, with the npm of the Node wheel; returns why it could not, or nothing."""
    lock = "package-lock.json"
    if SERVER.exists() and (HOME / lock).read_bytes() == (PINNED / lock).read_bytes():
        return ""
    HOME.mkdir(parents=True, exist_ok=True)
    for name in ("package.json", lock):
        shutil.copyfile(PINNED / name, HOME / name)
    command = [str(NODE), str(NPM), "ci", "--prefix", str(HOME), "--no-audit", "--no-fund", "--ignore-scripts"]
    try:
        done = subprocess.run(command, capture_output=True, text=True, timeout=180)
    except subprocess.TimeoutExpired:
        return "npm did not come to an end within three minutes"
    if done.returncode:
        (HOME / lock).unlink()
        return f"npm could not install the language server: {done.stderr.strip()[-300:]}"
    return ""


class LanguageServer:
    """A running server. Requests are answered in turn; what it publishes of a document is kept."""

    def __init__(self, process: subprocess.Popen[bytes], settings: Message) -> None:
        self._process = process
        self._settings = settings
        self._inbox: queue.Queue[Message] = queue.Queue()
        self._requests = 0
        self._marks: dict[str, list[Message]] = {}
        threading.Thread(target=self._listen, daemon=True).start()

    def request(self, method: str, params: Any) -> Any:
        """Send a request and wait for its answer."""
        self._requests += 1
        self._send({"id": self._requests, "method": method, "params": params})
        while True:
            message = self._receive(method)
            if message.get("id") == self._requests and "method" not in message:
                assert "error" not in message, message["error"]
                return message.get("result")

    def notify(self, method: str, params: Any) -> None:
        """Send a notification."""
        self._send({"method": method, "params": params})

    def open(self, uri: str, text: str) -> None:
        """Open a document; each needs an address of its own, as the server keeps what it parsed by it."""
        document = {"uri": uri, "languageId": "yaml", "version": 1, "text": text}
        self.notify("textDocument/didOpen", {"textDocument": document})

    def at(self, feature: str, uri: str, line: int, character: int) -> Any:
        """What a feature says at a place of an open document; lines and characters count from 0."""
        where = {"textDocument": {"uri": uri}, "position": {"line": line, "character": character}}
        return self.request(f"textDocument/{feature}", where)

    def marks(self, uri: str) -> list[Message]:
        """What the server marks in an open document, as soon as it has said so."""
        while uri not in self._marks:
            self._receive("textDocument/publishDiagnostics")
        return self._marks[uri]

    def _receive(self, awaited: str) -> Message:
        """The next message; what the server asks is answered, what it publishes is kept."""
        try:
            message = self._inbox.get(timeout=_WAIT)
        except queue.Empty:
            raise AssertionError(f"the language server did not answer {awaited} within {_WAIT} s") from None
        assert message, f"the language server ended while {awaited} was awaited"
        if message.get("method") == "textDocument/publishDiagnostics":
            self._marks[message["params"]["uri"]] = message["params"]["diagnostics"]
        elif "method" in message and "id" in message:
            wanted = message["method"] == "workspace/configuration"
            items = message["params"]["items"] if wanted else ()
            values = [self._settings.get(item.get("section", "")) for item in items]
            self._send({"id": message["id"], "result": values if wanted else None})
        return message

    def _send(self, message: Message) -> None:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self._process.stdin is not None
        self._process.stdin.write(b"Content-Length: %d\r\n\r\n%s" % (len(body), body))
        self._process.stdin.flush()

    def _listen(self) -> None:
        """Take in messages, each a block of headers, a blank line and a body; nothing is put when the server ends."""
        stream = self._process.stdout
        assert stream is not None
        length = 0
        while header := stream.readline():
            name, _, value = header.partition(b":")
            if name.strip().lower() == b"content-length":
                length = int(value)
            elif not header.strip():
                self._inbox.put(json.loads(stream.read(length)))
        self._inbox.put({})


@contextmanager
def language_server() -> Iterator[LanguageServer]:
    """A running server without any settings but these: it finds a schema by a file's first line, and no network."""
    quiet = {"schemaStore": {"enable": False}, "kubernetesCRDStore": {"enable": False}}
    yaml = {"validate": True, "hover": True, "completion": True, **quiet}
    pipe = subprocess.PIPE
    command = [str(NODE), str(SERVER), "--stdio"]
    process = subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=subprocess.DEVNULL, cwd=HOME)
    server = LanguageServer(process, {"yaml": yaml})
    item = {"snippetSupport": True, "documentationFormat": ["markdown"]}
    capabilities = {
        "textDocument": {"completion": {"completionItem": item}, "publishDiagnostics": {}},
        "workspace": {"configuration": True},
    }
    root = {"rootUri": HOME.as_uri(), "workspaceFolders": [{"uri": HOME.as_uri(), "name": "book"}]}
    try:
        server.request("initialize", {"processId": os.getpid(), "capabilities": capabilities, **root})
        server.notify("initialized", {})
        server.notify("workspace/didChangeConfiguration", {"settings": {"yaml": yaml}})
        yield server
        server.request("shutdown", None)
        server.notify("exit", None)
        process.wait(timeout=10)
    finally:
        process.kill()
        process.wait()
        for stream in (process.stdin, process.stdout):
            if stream is not None:
                stream.close()
