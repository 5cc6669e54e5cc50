"""A fault that the reader or the models find, before a rule puts it into words."""

from __future__ import annotations

from dataclasses import dataclass

from kb.finding import Part, Path, Place


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault in text or type; the rule named in ``rule`` puts it into words.

    ``path`` leads to the fault in the document. ``found`` is the offending text (shortened for printing), ``expected``
    is what is allowed instead. Only the reader sets ``place``. For a misspelled key, ``meant`` is the key that was
    certainly meant and ``near`` are the keys that may have been meant. ``page`` names the page the statement cites.
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
