"""``stopscrew rule``: a rule's page, or the list of rules."""

from __future__ import annotations

import argparse
import textwrap
from typing import TYPE_CHECKING, Any

from kb.cli.options import add_command, add_format

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kb.cli.options import Commands
    from kb.intake.rules import Bad, Good, Rule


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(commands, "rule", "examples:\n  stopscrew rule\n  stopscrew rule window-inverted\n")
    command.add_argument("id", nargs="?", metavar="ID", help="such as window-inverted")
    add_format(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the page, or the list.

    Raises:
        LookUpError: there is no such rule.
    """
    from kb.cli.rendering import print_json, print_lines
    from kb.errors import LookUpError
    from kb.intake.rules import rules

    found = rules()
    if arguments.id is None:
        if arguments.format == "json":
            print_json({"rules": [document(rule) for rule in found.values()]})
        else:
            width = max(map(len, found))
            print_lines(f"{rule.id:<{width}}  {rule.severity:<7}  {rule.summary}" for rule in found.values())
        return 0
    if arguments.id not in found:
        import difflib

        near = difflib.get_close_matches(arguments.id, found, 3)
        hint = f"; did you mean {' or '.join(near)}?" if near else "; to list them: stopscrew rule"
        raise LookUpError(f"there is no rule {arguments.id!r}{hint}", near)
    rule = found[arguments.id]
    if arguments.format == "json":
        print_json(document(rule))
    else:
        print_lines(page(rule))
    return 0


def page(rule: Rule) -> list[str]:
    """A rule's page as lines of text."""
    lines = [
        f"{rule.id} ({rule.severity})",
        "",
        *textwrap.wrap(rule.summary[0].upper() + rule.summary[1:] + ".", 96),
        "",
    ]
    for paragraph in rule.about.split("\n\n"):
        lines += [*textwrap.wrap(" ".join(paragraph.split()), 96), ""]
    lines += [*textwrap.wrap(f"Why: {rule.why}.", 96), ""]
    shown: list[tuple[str, Sequence[Bad | Good]]] = [("Reported", rule.bad), ("Not reported", rule.good)]
    for heading, examples in shown:
        for number, example in enumerate(examples, 1):
            lines += [f"{heading}, example {number}" + (f" ({example.file}):" if rule.kinds != ("family",) else ":")]
            lines += [f"    {line}" for line in example_lines(example)]
            lines.append("")
    return lines


def example_lines(example: Bad | Good) -> list[str]:
    """An example as lines to show; the longest are shortened."""
    if isinstance(example.text, bytes):
        shown = repr(example.text[:120])[2:-1] + (" ..." if len(example.text) > 120 else "")
        return [shown]
    lines = example.text.strip("\n").splitlines()
    cut = [line if len(line) <= 110 else line[:110] + " ..." for line in lines[:24]]
    return [*cut, "..."] if len(lines) > 24 else cut


def document(rule: Rule) -> dict[str, Any]:
    """A rule as plain values for JSON."""
    return {
        "id": rule.id,
        "severity": str(rule.severity),
        "reads": rule.reads,
        "summary": rule.summary,
        "why": rule.why,
        "about": rule.about,
        "reported": ["\n".join(example_lines(example)) for example in rule.bad],
        "not_reported": ["\n".join(example_lines(example)) for example in rule.good],
    }
