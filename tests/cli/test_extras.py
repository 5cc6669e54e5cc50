"""A plain install brings what look-ups, checks and the bench need; a command that needs an extra says which."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from kb.cli.commands import DOES
from tests.support.folders import FROZEN, ROOT

HIDDEN = ("mkdocs", "material", "markdown", "pymdownx", "jinja2", "markupsafe", "typst", "segno")
"""What the extras bring; the tests' own packages are not in the way."""
UNUSED = ("ruamel", "jsonschema")
"""What a plain install brings that none of these commands waits for."""
KETCH = "skerrow/ketch-47"

PLAIN = [
    ["find", "ketch"],
    ["show", KETCH],
    ["job", KETCH],
    ["deadcentre", "31", "before", "27", "after"],
    ["aim", KETCH, "throttle-pickup"],
    ["judge", KETCH, "throttle-pickup", "4 after"],
    ["turn", "--target", "19 before", "0", "24", "before", "1/2", "22", "before"],
    ["piston", KETCH, "24", "before"],
    ["rim", KETCH, "19", "before"],
    ["cylinders", KETCH],
    ["plates", "12", "13"],
    ["compression", "110", "122", "118", "--unit", "psi"],
    ["premix", "20", "L", "--ratio", "50"],
    ["rpm", "--hertz", "250", "--pulses", "3"],
    ["sheet", KETCH, "--format", "markdown"],
    ["sheet", KETCH, "--json"],
    ["draw", KETCH, "rim"],
    ["draw", KETCH, "running"],
    ["tape", KETCH],
    ["tape", KETCH, "--json"],
    ["check", "--specs", str(FROZEN), "--no-cache"],
    ["rule", "window-inverted"],
    ["compile", "--specs", str(FROZEN), "--out", "out.book"],
    ["site", "build", "--help"],
    ["completion", "bash"],
]
NEEDING = [
    (["sheet", KETCH], "paper", "jinja2"),
    (["sheet", KETCH, "--out", "sheet.html"], "paper", "jinja2"),
    (["sheet", KETCH, "--out", "sheet.pdf"], "paper", "typst"),
    (["tape", KETCH, "--out", "tape.pdf"], "paper", "typst"),
    (["site", "build"], "site", "jinja2"),
    (["site", "serve", "--port", "0"], "site", "jinja2"),
]
PROGRAM = """
import contextlib, io, json, sys
sys.path.insert(0, sys.argv[2])
sys.modules.update(dict.fromkeys(sys.argv[3].split(","), None))
from kb.cli import main
out, err = io.StringIO(), io.StringIO()
with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
    try:
        code = main(json.loads(sys.argv[1]))
    except SystemExit as stopped:
        code = stopped.code
print(json.dumps([code, out.getvalue(), err.getvalue()]))
"""


def run(words: list[str], hidden: tuple[str, ...], folder: Path) -> tuple[int, str, str]:
    """A command where some packages cannot be imported: exit code, standard output, standard error."""
    program = [sys.executable, "-I", "-c", PROGRAM, json.dumps(words), str(ROOT), ",".join(hidden)]
    ran = subprocess.run(program, capture_output=True, text=True, check=True, cwd=folder)
    code, out, err = json.loads(ran.stdout)
    return code, out, err


def test_every_command_is_tried() -> None:
    assert {words[0] for words in PLAIN} == {*DOES}


@pytest.mark.parametrize("words", PLAIN, ids=lambda words: " ".join(words[:2]))
def test_a_plain_install_answers(words: list[str], tmp_path: Path) -> None:
    code, out, err = run(words, (*HIDDEN, *UNUSED), tmp_path)
    assert (code, err) == (0, "")
    assert out


@pytest.mark.parametrize(("words", "extra", "package"), NEEDING, ids=[" ".join(row[0]) for row in NEEDING])
def test_what_needs_an_extra_names_it(words: list[str], extra: str, package: str, tmp_path: Path) -> None:
    said = f"this needs {package}, which a plain install leaves out; type: pip install 'stopscrew[{extra}]'"
    assert run(words, HIDDEN, tmp_path) == (2, "", f"stopscrew: {said}\n")
    if words[0] == "site":
        code, out, err = run([*words, "--json"], HIDDEN, tmp_path)
        assert (code, json.loads(out)["error"], json.loads(out)["message"], err) == (2, "ExtraMissing", said, "")
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("hidden", ["mkdocs", "material"])
def test_half_an_extra_is_named_too(hidden: str, tmp_path: Path) -> None:
    code, out, err = run(["site", "build"], (hidden,), tmp_path)
    assert (code, out) == (2, "")
    assert (
        err
        == f"stopscrew: this needs {hidden}, which a plain install leaves out; type: pip install 'stopscrew[site]'\n"
    )
    assert not (tmp_path / "build" / "site").exists()


def test_a_missing_package_of_ours_is_no_missing_extra(tmp_path: Path) -> None:
    with pytest.raises(subprocess.CalledProcessError) as raised:
        run(["site", "build"], ("kb.publish.site.build",), tmp_path)
    assert "ModuleNotFoundError: import of kb.publish.site.build halted" in raised.value.stderr
