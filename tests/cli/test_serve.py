"""``stopscrew site serve``: it prints its address, serves what was built, and ends on Ctrl-C without alarm."""

from __future__ import annotations

import os
import re
import signal
import socket
import struct
import subprocess
import sys
from pathlib import Path
from threading import Thread
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest

from kb.cli import main
from kb.publish.site.serving import server_of
from tests.support.example_book import example_book
from tests.support.folders import ROOT
from tests.support.processes import running

# A shell that starts the tests in the background has them, and all their children, ignore Ctrl-C.
HEEDING = """
import signal, sys
from kb.cli import main
signal.signal(signal.SIGINT, signal.default_int_handler)
sys.exit(main(sys.argv[1:]))
"""
SERVE = [sys.executable, "-c", HEEDING, "site", "serve", "--specs", "specs", "--out", "site"]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, content in example_book().items():
        file = tmp_path / "specs" / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content)
    return tmp_path


def test_it_serves_until_it_is_interrupted(folder: Path) -> None:
    with running([*SERVE, "--port", "0"], cwd=folder, env={**os.environ, "PYTHONPATH": str(ROOT)}) as serving:
        assert serving.stdout
        assert serving.stderr
        built, address = serving.stdout.readline(), serving.stdout.readline()
        found = re.fullmatch(r"(http://127\.0\.0\.1:[0-9]+/) \(end it with Ctrl-C\)\n", address)
        assert found, address or serving.stderr.read()
        assert re.fullmatch(r"site: \d+ famil(y|ies), \d+ files\n", built)
        with urlopen(found[1]) as answer:
            assert b"Stopscrew" in answer.read()
        with urlopen(f"{found[1]}worker.js") as answer:
            assert answer.headers["Content-Type"].startswith("text/javascript")
        with pytest.raises(HTTPError, match="404"):
            urlopen(f"{found[1]}no/such/page")
        serving.send_signal(signal.SIGINT)
        assert serving.wait() == 0
        assert serving.stdout.read() == "\n"
        assert serving.stderr.read() == ""


def test_a_port_that_is_taken_is_told(folder: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        done = subprocess.run(
            [*SERVE, "--port", port],
            cwd=folder,
            capture_output=True,
            text=True,
            check=False,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
        )
    assert done.returncode == 2
    assert done.stdout == "", "nothing is built before"
    assert done.stderr == f"stopscrew: port {port} cannot be served: Address already in use; give another with --port\n"


@pytest.mark.parametrize("port", ["99999", "0x50", "٨٠٨٠", "-1", ""])
def test_what_is_no_port_is_told(port: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="2"):
        main(["site", "serve", f"--port={port}"])
    assert "is no port; write a whole number from 0 to 65535" in capsys.readouterr().err


@pytest.mark.parametrize("what", ["build", "serve"])
def test_whoever_interrupts_the_build_is_told_that_nothing_changed(
    what: str, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*_arguments: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("kb.cli.site._book", interrupted)
    port = ["--port", "0"] if what == "serve" else []
    assert main(["site", what, "--out", str(tmp_path / "site"), *port]) == 130
    assert capsys.readouterr().err == "\nstopscrew: interrupted; the site is as it was\n"


def test_a_browser_that_goes_away_is_no_fault(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "large.bin").write_bytes(bytes(8_000_000))
    with server_of(tmp_path, 0) as server:
        server.daemon_threads = False  # so that closing waits for the answer
        serving = Thread(target=server.serve_forever)
        serving.start()
        with socket.create_connection(("127.0.0.1", server.server_port)) as browser:
            browser.sendall(b"GET /large.bin HTTP/1.0\r\n\r\n")
            browser.recv(10)
            browser.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        server.shutdown()
        serving.join()
    assert capsys.readouterr().err == ""
