"""``stopscrew rpm``: engine speed from sparks or a tachometer; what a constant delay loses in degrees."""

from __future__ import annotations

import argparse

from kb.cli.options import add_command, add_format

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.bench.worked_calculation import Worked
    from kb.cli.options import Commands

_WAYS = {
    "hertz": ("--hertz 250 --pulses 3", ("pulses",)),
    "shown": ("--shown 3000 --set-for 4 --has 6", ("set_for", "has")),
    "delay": ("--delay '50 us' --at 5000", ("at",)),
    "lost": ("--lost 2 --between 300 5000", ("between",)),
}
"""The ways to ask, by the option that begins each: an example, and what else it needs."""


def add(commands: Commands) -> None:
    """The command's arguments."""
    examples = "\n".join(f"  stopscrew rpm {example}" for example, _ in _WAYS.values())
    command = add_command(commands, "rpm", f"examples:\n{examples}\n")
    command.add_argument("--hertz", metavar="NUMBER", help="pulses a second")
    command.add_argument("--pulses", metavar="NUMBER", help="pulses in one turn of the crank")
    command.add_argument("--shown", metavar="RPM", help="what the tachometer shows")
    command.add_argument("--set-for", metavar="NUMBER", help="pulses in a turn that it is set for")
    command.add_argument("--has", metavar="NUMBER", help="pulses in a turn that the engine gives")
    command.add_argument("--delay", metavar="TIME", help="a constant delay of the ignition, such as '50 us'")
    command.add_argument("--at", metavar="RPM", help="the speed at which it loses degrees")
    command.add_argument("--lost", metavar="DEGREES", help="degrees lost between two speeds")
    command.add_argument("--between", nargs=2, metavar="RPM", help="the two speeds, the slower first")
    add_format(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the speed, the degrees or the delay."""
    from kb.cli.rendering import print_worked
    from kb.errors import QuantityError

    given = {name for name, value in vars(arguments).items() if value is not None}
    asked = [name for name in _WAYS if name in given]
    needs = [name for name in asked for name in _WAYS[name][1]]
    allowed = {*asked, *needs}
    every = {option for name, (_, others) in _WAYS.items() for option in (name, *others)}
    if len(asked) != 1 or not allowed <= given or (given & every) - allowed:
        raise QuantityError("write one of: " + "; ".join(example for example, _ in _WAYS.values()))
    return print_worked(_worked(arguments, asked[0]), None, as_json=arguments.format == "json")


def _worked(arguments: argparse.Namespace, asked: str) -> Worked:
    from kb.bench import rpm
    from kb.cli import typed_values

    if asked == "hertz":
        return rpm.work_from_frequency(
            typed_values.positive("--hertz", arguments.hertz), typed_values.positive("--pulses", arguments.pulses)
        )
    if asked == "shown":
        return rpm.work_tachometer(
            typed_values.positive("--shown", arguments.shown),
            typed_values.positive("--set-for", arguments.set_for),
            typed_values.positive("--has", arguments.has),
        )
    if asked == "delay":
        return rpm.work_delay(
            typed_values.seconds("--delay", arguments.delay), typed_values.positive("--at", arguments.at)
        )
    slow, fast = (typed_values.positive("--between", words) for words in arguments.between)
    return rpm.work_delay_between(typed_values.size_in_degrees("--lost", arguments.lost), slow, fast)
