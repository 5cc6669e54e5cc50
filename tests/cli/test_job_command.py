"""``stopscrew job``: what is printed, as text and as JSON, and what is told when there is no order of work."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from kb.cli import main
from tests.support.folders import FROZEN

FIRST = "The maker's own instructions, local rules and a licensed mechanic come first."
INVENTED = "invented demonstration data"


SHOWN = [
    # one step of each kind: its text, figure, caution, tick, note and what it makes stale
    ("skerrow/ketch-47", "     [ ] lever untied, and no part of the tie left near the flywheel"),
    ("skerrow/ketch-47", "     note     as found ______________   as left ______________"),
    ("skerrow/ketch-47", "     then     check again: idle-stop, cam-clearance"),
    ("skerrow/ketch-47", "  (all of it must be ticked)"),
    ("skerrow/ketch-47", "     caution  danger: Open flywheel. No loose sleeves, hair, gloves or rope near it."),
    ("skerrow/ketch-47", "     caution  danger: Open flywheel (as above)"),
    ("skerrow/ketch-47", "     figure   Throttle pickup"),
    ("skerrow/ketch-47", "              cranking:  4 to 6° ATDC  agreed"),
    ("skerrow/ketch-47", "     [ ] every module plugged in again, by the list"),
    ("skerrow/wherry-2-7", "One spark, set once"),
    ("skerrow/wherry-2-7", "     [ ] stop lead off the block and back in its place"),
    ("skerrow/wherry-2-7", "              no figure published"),
    ("hollin-drake/adze-31", "     [ ] battery cables back and tight, no part of the feed grounded"),
]


@pytest.mark.parametrize(("family", "line"), SHOWN)
def test_the_steps_as_text(compiled_book: str, family: str, line: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["job", "--book", compiled_book, family]) == 0
    text = capsys.readouterr().out
    assert line in text
    assert f"\n{INVENTED}\n" in text
    assert text.endswith(f"\n{INVENTED}; data of 2026-07-27\n{FIRST}\n")
    assert max(map(len, text.splitlines())) <= 100


def test_one_of_them_whole(
    compiled_book: str, golden: Callable[[str, str], None], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["job", "--book", compiled_book, "pellwater/gregale-58"]) == 0
    golden("job/gregale-58.txt", capsys.readouterr().out)


@pytest.mark.parametrize("family", ["skerrow/ketch-47", "ostmere/knot-4-1", "ostmere/sanderling-93"])
def test_the_steps_as_json(compiled_book: str, family: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["job", "--book", compiled_book, "--json", family]) == 0
    document = json.loads(capsys.readouterr().out)
    assert (document["family"], document["invented"], document["date"]) == (family, True, "2026-07-27")
    steps = {step["id"]: step for step in document["steps"]}
    assert len(steps) == len(document["steps"]) > 30
    assert {caution for step in steps.values() for caution in step.get("cautions", ())} == set(document["cautions"])
    asked = {figure for step in steps.values() for figure in step.get("figures", ())}
    assert {figure["figure"] for figure in document["figures"]} <= asked
    assert steps["before-plugs"]["gate"]
    assert {"id", "do", "why"} <= set(steps["dead-centre"])


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["Ketch 47", "--serial", "301455"], 0, "(skerrow/ketch-47)"),
        (["Ketch 47"], 3, "skerrow/ketch-47-late"),
        (["skerrow/ketch-4"], 3, "did you mean skerrow/ketch-47"),
        (["skerrow/ketch-47", "--serial", "999999"], 3, "no range"),
        (["skerrow/ketch-47", "--year", "1978"], 0, "Ketch 47"),
    ],
)
def test_which_family(
    compiled_book: str, words: list[str], code: int, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["job", "--book", compiled_book, *words]) == code
    printed = capsys.readouterr()
    assert said in printed.out + printed.err
    assert INVENTED in printed.out + printed.err


def test_a_family_without_a_linkage_is_told_what_to_write(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    specs = tmp_path / "specs"
    shutil.copytree(FROZEN, specs)
    family = specs / "families" / "skerrow" / "yawl-23.yaml"
    family.write_text(family.read_text().replace("linkage: cam-touches-at-idle\n", ""))
    (specs / "routines" / "fixed-spark.yaml").unlink()
    rows = [
        ("skerrow/yawl-23", "write linkage: and one of these in families/skerrow/yawl-23.yaml", "roller-on-mark"),
        ("skerrow/wherry-2-7", "add routines/fixed-spark.yaml with linkage: fixed-spark", "cam-clear-at-idle"),
    ]
    for asked, words, candidate in rows:
        assert main(["job", "--specs", str(specs), asked]) == 3
        said = capsys.readouterr().err
        assert words in said
        assert f"\n  {candidate}\n" in said
        assert main(["job", "--specs", str(specs), "--json", asked]) == 3
        document = json.loads(capsys.readouterr().out)
        assert (document["error"], candidate in document["candidates"]) == ("RoutineNotFound", True)


@pytest.mark.parametrize("words", [["job"], ["job", "a/b", "c"], ["job", "a/b", "--year", "soon"]])
def test_usage(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(words)
    assert stopped.value.code == 2
    assert "usage: stopscrew" in capsys.readouterr().err


def test_its_help_has_examples(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["job", "--help"])
    assert stopped.value.code == 0
    assert "examples:\n  stopscrew job " in capsys.readouterr().out


def test_no_book(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["job", "--book", str(tmp_path / "missing.book"), "skerrow/ketch-47"]) == 5
    assert "there is no file" in capsys.readouterr().err
