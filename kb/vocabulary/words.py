"""Closed lists of words at the price of a plain class.

Members are plain text. As enumerations the lists would say the same, and all of them together would cost a cold command
a third of a bare interpreter's start.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import ClassVar


class WordList:
    """A closed list of words: each is a member by its name, and ``words`` holds them in order."""

    words: ClassVar[tuple[str, ...]]

    def __init_subclass__(cls) -> None:
        cls.words = tuple([word for name, word in vars(cls).items() if name.isupper()])
