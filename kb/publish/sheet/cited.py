"""The numbered list of a sheet's sources, in the order in which they are first cited."""

from __future__ import annotations

from kb.book.model.answer import Answer, Cited
from kb.publish.sheet.record import Citing, Listed


class SourceList:
    """The sources that a sheet cites, numbered in order, and the pages of each."""

    def __init__(self) -> None:
        self._pages: dict[str, dict[str, None]] = {}
        self._named: dict[str, Cited] = {}

    def cite(self, answer: Answer) -> tuple[Citing, ...]:
        """Citations of every statement behind an answer, those that count first."""
        stated = sorted(answer.evidence, key=lambda cited: cited.role != "counts")
        return tuple(self._citing(cited) for cited in stated)

    def _citing(self, cited: Cited) -> Citing:
        self._named.setdefault(cited.source, cited)
        pages = self._pages.setdefault(cited.source, {})
        if cited.page:
            pages[cited.page] = None
        role = "" if cited.role == "counts" else f"{cited.role}: {cited.reason}" if cited.reason else cited.role
        number = list(self._named).index(cited.source) + 1
        return Citing(number, cited.source_title, cited.page, _says(cited), role)

    def listed(self) -> tuple[Listed, ...]:
        """The list for the end of the sheet."""
        return tuple(
            Listed(number, source, cited.source_title, cited.source_kind.replace("-", " "), tuple(self._pages[source]))
            for number, (source, cited) in enumerate(self._named.items(), 1)
        )


def _says(cited: Cited) -> str:
    when = ", ".join(part for part in (cited.state, cited.conditions) if part)
    only = f" (only {cited.only})" if cited.only else ""
    return f"{cited.printed}, {when}{only}" if when else f"{cited.printed}{only}"
