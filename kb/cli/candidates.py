"""What can stand where the cursor is: families, figures and their states and conditions from the book that is named."""

from __future__ import annotations

import argparse
from pathlib import Path

from argcomplete.completers import BaseCompleter, DirectoriesCompleter, FilesCompleter

from kb.cli.options import CONDITIONS
from kb.errors import StopscrewError

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from kb.book.book import Book

_AIMED = ("aim", "judge", "turn")
"""Commands that take only figures which are set by the timing light."""
_WITHOUT_FAMILY = ("find", "plates")
"""Commands whose words never begin with a family."""


class Candidates(BaseCompleter):
    """What may be typed for an argument, as argcomplete asks; nothing where the book cannot be read."""

    def __call__(
        self, *, prefix: str, action: argparse.Action, parsed_args: argparse.Namespace, **_: object
    ) -> Iterable[str]:
        """All that begins with ``prefix``, perhaps among others; the book is the one that is named on the line."""
        match action.metavar:
            case "FILE":
                return FilesCompleter()(prefix)
            case "DIR":
                return DirectoriesCompleter()(prefix)
        try:
            return self._from_the_book(prefix, action, parsed_args)
        except StopscrewError:
            return ()

    def _from_the_book(self, prefix: str, action: argparse.Action, arguments: argparse.Namespace) -> Iterable[str]:
        words = getattr(arguments, "words", None) or []
        match action.dest:
            case "words" if not words and arguments.command not in _WITHOUT_FAMILY:
                return families(arguments, prefix)
            case "words" if len(words) == 1 and arguments.command == "turn":
                return figures(arguments, words[0])
            case "family":
                return families(arguments, prefix)
            case "figure" if action.metavar == "FIGURE":
                return figures(arguments, arguments.family)
            case "state":
                return stated(arguments, "state") or action.choices or ()
            case "id":
                return rules()
            case condition if condition in CONDITIONS:
                return stated(arguments, condition)
        return ()


def families(arguments: argparse.Namespace, prefix: str) -> Iterable[str]:
    """Ids of families; of makers alone, as of folders, while several go on from what is typed."""
    ids = [key for key in _families(arguments) if key.startswith(prefix)]
    makers = sorted({f"{key.partition('/')[0]}/" for key in ids})
    return makers if "/" not in prefix and len(makers) > 1 else ids


def _families(arguments: argparse.Namespace) -> Sequence[str]:
    if arguments.specs:  # an id is its path: a folder with faults, which no look-up opens, has ids all the same
        files = Path(arguments.specs).glob("families/*/*.yaml")
        return sorted(f"{file.parent.name}/{file.stem}" for file in files)
    with _book(arguments) as book:
        return book.family_ids()


def figures(arguments: argparse.Namespace, family: str) -> Iterable[str]:
    """The figures of a family of which someone has said something."""
    if arguments.specs:
        return sorted(file.stem for file in Path(arguments.specs).glob("catalogue/*.yaml"))
    from kb.quantity import SIDE_KEYS

    with _book(arguments) as book:
        found = book.family(family).statements
        by_light = {kind.id for kind in book.figures.values() if {*SIDE_KEYS} & {*kind.units}}
        return [figure for figure in found if figure in by_light or arguments.command not in _AIMED]


def stated(arguments: argparse.Namespace, what: str) -> Iterable[str]:
    """The states, or the values of a condition, in which the figure is stated; none where no figure is named yet."""
    named = getattr(arguments, "words", None) or [getattr(arguments, name, None) for name in ("family", "figure")]
    if arguments.specs or len(named) < 2 or not all(named):
        return ()
    family, figure, *_ = named
    with _book(arguments) as book:
        found = [one for one in book.statements(book.family(family).id, figure) if not one.absent]
    values = [one.state if what == "state" else one.conditions.get(what) for one in found]
    return list(dict.fromkeys(value for value in values if isinstance(value, str)))


def rules() -> Iterable[str]:
    """The ids of rules."""
    from kb.intake.rules import rules

    return rules()


def _book(arguments: argparse.Namespace) -> Book:
    from kb import open_book

    return open_book(arguments.book)
