"""Which browser modules a page needs: those that it names and all that these import, read from the modules."""

from __future__ import annotations

import posixpath
import re

from tests.support.folders import ASSETS

_IMPORT = re.compile(r'^(?:import|export)\s[^;"]*"(\.[^"]+)"', re.MULTILINE)


def modules_needed(*entries: str) -> set[str]:
    """The paths below ``site/assets`` of some modules and of all that they import at once, directly or not."""
    needed, left = set[str](), [*entries]
    while left:
        path = left.pop()
        if path not in needed:
            needed.add(path)
            found = _IMPORT.findall((ASSETS / path).read_text(encoding="utf-8"))
            left += [posixpath.normpath(posixpath.join(posixpath.dirname(path), other)) for other in found]
    return needed
