"""``stopscrew completion``: what a shell reads to complete the command, and what it is offered when it asks.

argcomplete does the work: it asks the command itself at each press of the key, so families and figures come from the
book that is named on the line. A script that is written once, as shtab makes, could not know them.
"""

from __future__ import annotations

import argparse

from kb.cli.options import add_command

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable

    from kb.cli.options import Commands

SHELLS = ("bash", "zsh", "fish")
_SWITCH_ON = """\
switch it on:
  bash: add this line to ~/.bashrc
    source <(stopscrew completion bash)
  zsh: add this line to ~/.zshrc, below the one with compinit
    source <(stopscrew completion zsh)
  fish: type this once
    stopscrew completion fish > ~/.config/fish/completions/stopscrew.fish
"""


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(commands, "completion", _SWITCH_ON)
    command.add_argument("shell", choices=SHELLS, help="the shell that is to complete")
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the script."""
    from argcomplete.shell_integration import shellcode

    print(shellcode(["stopscrew"], shell=arguments.shell).strip())
    return 0


def complete(parser: argparse.ArgumentParser) -> None:
    """Answer a shell that asks how a line goes on, and end there."""
    import argcomplete

    from kb.cli.candidates import Candidates

    for action in (action for command in _commands(parser) for action in command._actions if action.dest == "state"):
        vars(action)["completer"] = Candidates()  # of its choices a figure has a few
    argcomplete.autocomplete(parser, always_complete_options=False, default_completer=Candidates())


def _commands(parser: argparse.ArgumentParser) -> Iterable[argparse.ArgumentParser]:
    found = (action.choices for action in parser._actions if isinstance(action, argparse._SubParsersAction))
    return next(found).values()
