"""What a command makes: in which form, and to which file, or to standard output."""

from __future__ import annotations

import os
import sys
from pathlib import Path

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse

ENDINGS = {"html": (".html", ".htm"), "markdown": (".md",), "pdf": (".pdf",), "svg": (".svg",), "json": (".json",)}
"""How a file of each form ends; the first is the one to suggest. One that is not here ends in its own name."""


def _endings(form: str) -> tuple[str, ...]:
    return ENDINGS.get(form, (f".{form}",))


def chosen_form(arguments: argparse.Namespace) -> str:
    """The form to write: what ``--format`` names, else what the ending of ``--out`` means, else the usual one.

    A form that is named and an ending that means another contradict each other, and end the command; so does an ending
    that says nothing where no form is named.
    """
    named = arguments.format
    if arguments.out is None:
        return str(named or arguments.forms[0])
    file = Path(arguments.out)
    meant = next((form for form in (*ENDINGS, *arguments.forms) if file.suffix.lower() in _endings(form)), None)
    form = named or meant
    if form not in arguments.forms or meant not in (None, form):
        why = f"its ending means {meant}, not {named}" if named else "its ending says what is written"
        files = (f"{file.stem}{_endings(one)[0]}" for one in ([named] if named else arguments.forms))
        arguments.refuse(f"argument --out: {arguments.out!r}: {why}; write --out {' or '.join(files)}")
    return str(form)


def write_output(arguments: argparse.Namespace, content: bytes | str) -> int:
    """Write to the file that ``--out`` names, or to standard output; the exit code."""
    if arguments.out is not None:
        return write_files({arguments.out: content})
    if isinstance(content, str):
        sys.stdout.write(content)
    elif sys.stdout.isatty():
        arguments.refuse("argument --out: a PDF is not for a terminal; name a file")
    else:
        sys.stdout.buffer.write(content)
    return 0


def write_files(files: dict[str, bytes | str]) -> int:
    """Write each file and say so; the exit code."""
    for name, content in files.items():
        try:
            _write_whole(Path(name), content.encode() if isinstance(content, str) else content)
        except OSError as error:
            print(f"stopscrew: {name} cannot be written: {error.strerror}; name a file that can", file=sys.stderr)
            return 2
        print(f"wrote {name}")
    return 0


def _write_whole(path: Path, content: bytes) -> None:
    """Write beside the file, then put that in its place: what was there stays until the new one is whole.

    Raises:
        OSError: it cannot be written; nothing of it is left.
    """
    if path.exists() and not path.is_file():  # a folder refuses; a device is written to, not replaced
        path.write_bytes(content)
        return
    path = path.resolve()  # through a link, to what it names
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        beside.write_bytes(content)
        beside.replace(path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
