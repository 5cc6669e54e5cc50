"""Calling a command of the bench as it is typed: its exit code, and what it printed where."""

from __future__ import annotations

import contextlib
import io
import json
import shlex
from typing import Any

from kb.cli import main

BENCH = ("deadcentre", "turn", "piston", "rim", "cylinders", "plates", "compression", "premix", "rpm")
WITHOUT_BOOK = ("plates", "rpm")
FIRST = "The maker's own instructions, local rules and a licensed mechanic come first."
INVENTED = "invented demonstration data"


def call(words: str | list[str], book: str = "", *, as_json: bool = False) -> tuple[int, str, str]:
    """The exit code, standard output and standard error of a command, its words as a shell splits them."""
    typed = shlex.split(words) if isinstance(words, str) else words
    typed = [*typed, *(["--json"] if as_json else [])]
    if book and typed[0] not in WITHOUT_BOOK:
        typed += ["--book", book]
    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            code = main(typed)
        except SystemExit as stopped:
            code = int(str(stopped.code))
    return code, out.getvalue(), err.getvalue()


def document(words: str | list[str], book: str = "") -> dict[str, Any]:
    """What a command that succeeds prints as JSON."""
    code, out, err = call(words, book, as_json=True)
    assert code == 0, out + err
    found: dict[str, Any] = json.loads(out)
    return found
