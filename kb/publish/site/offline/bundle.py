"""Bundles the site's browser modules into one plain script: not every browser lets a service worker import modules.

Each module becomes a function of its own, so that names do not clash. Only the syntax that these modules use is
supported and all else refused: imports by name or as a whole from a relative path, ``export`` before a function, class
or constant.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable, Iterator

_IMPORT = re.compile(r'^import\s+(?:\{([^}]*)\}|\*\s+as\s+(\w+))\s+from\s+"(\.[^"]+)";?[ \t]*$', re.M)
_EXPORT = re.compile(r"^export\s+(?=(?:async\s+)?(?:function\*?|class|const|let)\b)", re.M)
_NAME = re.compile(r"^export\s+(?:async\s+)?(?:function\*?|class|const|let)\s+(\w+)(.*)$", re.M)
_LEFT = re.compile(r"^\s*(?:import|export)\b(?!\()", re.M)
_MORE_NAMES = re.compile(r",\s*(\w+)\s*=")


class CannotBundle(ValueError):
    """A module uses syntax that is not supported, or imports itself in a circle."""


def one_script(read: Callable[[str], str], entry: str) -> str:
    """One script of a module and all that it imports. ``read`` gives a module's text by its path.

    Raises:
        CannotBundle: the message names the module and the fault.
    """
    order: dict[str, str] = {}
    _take(read, entry, order, ())
    return "\n".join(['"use strict";', *order.values(), ""])


def _take(read: Callable[[str], str], path: str, order: dict[str, str], above: tuple[str, ...]) -> None:
    if path in above:
        raise CannotBundle(f"{path} imports itself by way of {', '.join(above)}")
    if path in order:
        return
    text, heads = read(path), list[str]()
    for found in _IMPORT.finditer(text):
        other = posixpath.normpath(posixpath.join(posixpath.dirname(path), found[3]))
        _take(read, other, order, (*above, path))
        taken = f"{{{found[1].replace(' as ', ': ')}}}" if found[2] is None else found[2]
        heads.append(f"const {' '.join(taken.split())} = {_variable(other)};")
    names = list(_exported(text))
    body = _EXPORT.sub("", _IMPORT.sub("", text))
    if left := _LEFT.search(body):
        raise CannotBundle(f"{path}: {left[0].strip()} uses syntax that is not supported")
    given = f"return {{ {', '.join(names)} }};"
    order[path] = f"const {_variable(path)} = (() => {{\n" + "\n".join((*heads, body.strip(), given)) + "\n})();"


def _exported(text: str) -> Iterator[str]:
    for found in _NAME.finditer(text):
        yield found[1]
        if re.match(r"export\s+(?:const|let)\b", found[0]) and found[2].rstrip().endswith(";"):
            yield from _MORE_NAMES.findall(_without_brackets(found[2]))


def _without_brackets(text: str) -> str:
    """The text outside brackets and quotes, where a comma begins another name."""
    text = re.sub(r'"[^"]*"|`[^`]*`', "", text)
    while (shorter := re.sub(r"\([^()]*\)|\[[^][]*\]|\{[^{}]*\}", "", text)) != text:
        text = shorter
    return text


def _variable(path: str) -> str:
    return "$" + re.sub(r"\W", "_", path.removesuffix(".js"))
