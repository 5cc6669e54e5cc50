"""What the reader and the models run into, before a rule puts it in words."""

from __future__ import annotations

from dataclasses import dataclass

from kb.finding import Part, Path, Place


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault of text or type; the rule named in ``rule`` says it in words.

    ``found`` is the offending text (cut to a printable length), ``expected`` what could stand there instead,
    ``place`` is given by the reader alone, ``path`` leads to the fault in the document, ``meant`` is the key that was
    surely meant by a misspelled one, ``near`` are the keys that it may have been meant for, ``page`` says which page
    the statement is from.
    """

    rule: str
    path: Path = ()
    found: str = ""
    expected: tuple[str, ...] = ()
    part: Part = Part.VALUE
    place: Place | None = None
    meant: str = ""
    near: tuple[str, ...] = ()
    page: str = "the page"
