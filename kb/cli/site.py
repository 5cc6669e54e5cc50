"""``stopscrew site``: build the site of a book, or serve it on this machine."""

from __future__ import annotations

import argparse
import sys

from kb.cli.options import Help, add_book, add_command, cache_beside, without_plugins

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

    from kb.book.book import Book
    from kb.cli.options import Commands
    from kb.finding import Finding
    from kb.publish.site.reading.rule_pages import RuleText


INTERRUPTED = 130
"""The exit code of what was ended by hand, as a shell has it: 128 and the signal's number."""


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "site",
        "examples:\n  stopscrew site build --specs specs\n  stopscrew site serve --specs specs --port 8000\n",
    )
    what = command.add_subparsers(dest="what", required=True, metavar="build|serve")
    for name, summary in (("build", "build it"), ("serve", "build it and serve it on 127.0.0.1")):
        part = what.add_parser(name, help=summary, description=summary.capitalize() + ".", formatter_class=Help)
        part.add_argument("--out", metavar="DIR", default="build/site", help="the folder to build (build/site)")
        part.add_argument(
            "--address",
            metavar="URL",
            help="where the site will be published, such as https://example.org/stopscrew/; for the sitemap",
        )
        if name == "serve":
            help_text = "the port (8000; 0 takes a free one)"
            part.add_argument("--port", type=_port, default=8000, metavar="N", help=help_text)
        add_book(part)
        part.set_defaults(run=run, extra="site")


def run(arguments: argparse.Namespace) -> int:
    """Build, or build and serve until interrupted; a failed build leaves the last good site in its place."""
    import signal

    signal.signal(signal.SIGTERM, signal.default_int_handler)  # what is half made is cleared away
    try:
        return _serve(arguments) if arguments.what == "serve" else _build(arguments)
    except KeyboardInterrupt:
        print("\nstopscrew: interrupted; the site is as it was", file=sys.stderr)
        return INTERRUPTED
    except OSError as error:
        where = error.filename or arguments.out
        print(f"stopscrew: {where}: {error.strerror or error}; the site is as it was", file=sys.stderr)
        return 2


def _build(arguments: argparse.Namespace) -> int:
    from pathlib import Path

    from kb.cli.rendering import print_json, print_lines
    from kb.publish.site.build import build_site
    from kb.publish.site.sitemap import read_address

    address = read_address(arguments.address) if arguments.address else ""
    seen = sys.stderr.isatty()
    with _book(arguments) as book:
        try:
            progress = _draw_progress if seen else _no_progress
            built = build_site(book, Path(arguments.out), progress, rules=rule_texts(), address=address)
        finally:
            if seen:
                print("\r\x1b[K", end="", file=sys.stderr)
    if arguments.format == "json":
        print_json({"site": str(built.place), "families": built.families, "files": built.files, "date": book.date})
    else:
        print_lines([f"{built.place}: {built.families} families, {built.files} files"])
    return 0


def rule_texts() -> list[RuleText]:
    """What the rules say of themselves, in the form that the site takes: it knows nothing of the check."""
    from kb.cli.rule import example_lines
    from kb.intake.rules import Bad, Good, rules
    from kb.publish.site.reading.rule_pages import RuleExample, RuleText

    def shown(example: Bad | Good) -> RuleExample:
        marked = example.where if isinstance(example, Bad) else ""
        return RuleExample(f"specs/{example.file}", "\n".join(example_lines(example)), marked)

    return [
        RuleText(
            rule.id,
            str(rule.severity),
            rule.reads,
            rule.summary,
            rule.why,
            rule.about,
            [shown(example) for example in rule.bad],
            [shown(example) for example in rule.good],
            rule.can_warn,
        )
        for rule in rules().values()
    ]


def _book(arguments: argparse.Namespace) -> Book:
    from pathlib import Path

    if arguments.specs:
        from kb.errors import BookHasFaults, InternalError
        from kb.finding import Finding
        from kb.intake.compiling import open_folder

        without_plugins()
        try:
            return open_folder(Path(arguments.specs), cache_beside(arguments.specs))
        except (BookHasFaults, InternalError) as faults:
            found = [one for one in faults.findings if isinstance(one, Finding)]
            if arguments.format != "json":
                _print_findings(found, arguments.specs.rstrip("/") + "/")
            raise
    from kb.cli.options import open_named_book

    return open_named_book(arguments)


def _print_findings(findings: Sequence[Finding], folder: str) -> None:
    """The findings that keep the site from being built.

    Raises:
        InternalError: the reporter failed; they are printed in the plainest form.
    """
    from kb.errors import InternalError
    from kb.intake.reporters.text import blocks

    try:
        printed = "\n".join(blocks(findings, folder))
    except Exception as error:
        from kb.intake.reporters.plain import print_after_failure

        plain = print_after_failure("text", error, lambda some: "".join(blocks(some, folder)), findings, folder)
        print(plain, file=sys.stderr)
        raise InternalError("the reporter text has failed; the findings are above, with the failure") from error
    print(printed, file=sys.stderr)


def _serve(arguments: argparse.Namespace) -> int:
    """Take the port before the time is spent on building; who asks meanwhile waits."""
    from pathlib import Path

    from kb.publish.site.serving import server_of

    port = arguments.port
    try:
        server = server_of(Path(arguments.out), port)
    except OSError as error:
        print(f"stopscrew: port {port} cannot be served: {error.strerror}; give another with --port", file=sys.stderr)
        return 2
    with server:
        _build(arguments)
        print(f"http://127.0.0.1:{server.server_port}/ (end it with Ctrl-C)", flush=True)
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            print()
    return 0


def _port(words: str) -> int:
    if not words.isascii() or not words.isdecimal() or int(words) > 65535:
        raise argparse.ArgumentTypeError(f"{words!r} is no port; write a whole number from 0 to 65535, such as 8080")
    return int(words)


def _draw_progress(done: int, whole: int) -> None:
    if done % 20 == 0 or done == whole:
        print(f"\r{'#' * (40 * done // whole):.<40} {done} of {whole} families", end="", file=sys.stderr, flush=True)


def _no_progress(done: int, whole: int) -> None:
    """Nothing is drawn where the output is not a terminal."""
