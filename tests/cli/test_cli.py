"""The command line: exit codes, JSON, what every answer shows, and what a wrong word is told."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from kb.cli import main
from tests.support.folders import FROZEN

FIRST = "The maker's own instructions, local rules and a licensed mechanic come first."
INVENTED = "invented demonstration data"


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        ("show skerrow/ketch-47 max-advance --state cranking --serial 301455", 0, "24° BTDC"),
        ("show skerrow/ketch-47", 0, "serial not given"),
        ("show skerrow/ketch-47 --serial 301455", 0, "serial 301455"),
        ("show skerrow/ketch-47 idle-speed --gear neutral", 0, "850 to 950 rpm"),
        ("show pellwater/gregale-58 main-jet --altitude 500m", 0, "M128"),
        ("show pellwater/gregale-58 main-jet --altitude 5000ft", 0, "M124"),
        ("show pellwater/gregale-58 main-jet", 3, "say which"),
        ("find kecth 47", 0, "skerrow/ketch-47"),
        ("find xyzzyx", 3, "nothing found"),
        ("show skerrow/ketch-48", 3, "no family"),
        ("show Ketch-47 max-advance", 3, "skerrow/ketch-47"),
        ("show skerrow/ketch-47 max-advanse", 3, "did you mean max-advance"),
        ("show skerrow/ketch-47 max-advance", 3, "say which"),
        ("show skerrow/ketch-47 idle-speed", 3, "say which"),
        ("show skerrow/ketch-47 idle-timing", 3, "not stated"),
        ("show skerrow/ketch-47 breaker-gap", 3, "no figure is published for the"),
        ("show skerrow/ketch-47 max-advance --state cranking --serial 999999", 3, "no range"),
        ("show skerrow/barque-113 throttle-pickup --state cranking", 4, "do not agree"),
    ],
)
def test_answers_and_refusals(
    compiled_book: str, words: str, code: int, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    command, *rest = words.split()
    assert main([command, "--book", compiled_book, *rest]) == code
    printed = capsys.readouterr()
    text = printed.out + printed.err
    assert said in text
    assert INVENTED in text
    assert FIRST in text
    assert "data of 20" in text.replace("data of   20", "data of 20")

    assert main([command, "--book", compiled_book, "--json", *rest]) == code
    document = json.loads(capsys.readouterr().out)
    assert document["invented"] is True
    assert document["date"].startswith("20")


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["show"],
        ["find"],
        ["nothing"],
        ["show", "a/b", "--year", "soon"],
        ["check", "--format", "xml"],
        ["show", "a/b", "main-jet", "--altitude", "high"],
    ],
)
def test_usage(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(words)
    assert stopped.value.code == 2
    assert "usage: stopscrew" in capsys.readouterr().err


@pytest.mark.parametrize(
    "words", [["--help"], *([name, "--help"] for name in ("find", "show", "check", "rule", "compile"))]
)
def test_help_has_examples(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(words)
    assert stopped.value.code == 0
    assert "examples:\n  stopscrew " in capsys.readouterr().out


def test_a_book_that_can_not_be_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    foreign = tmp_path / "foreign.book"
    foreign.write_bytes(b"not a book at all")
    for path in (foreign, tmp_path / "missing.book"):
        assert main(["show", "--book", str(path), "skerrow/ketch-47"]) == 5
        assert "stopscrew: " in capsys.readouterr().err
    assert main(["check", "--specs", str(tmp_path / "nowhere")]) == 5


@pytest.mark.parametrize(
    ("change", "strict", "code"),
    [
        (("atdc: [4, 6]", "atdc: [6, 4]"), False, 1),
        (("name: Ketch 47", 'name: "Ketch 47"'), False, 0),
        (("name: Ketch 47", 'name: "Ketch 47"'), True, 1),
        (("", ""), True, 0),
    ],
)
def test_check_exits_by_what_it_finds(
    tmp_path: Path, change: tuple[str, str], strict: bool, code: int, capsys: pytest.CaptureFixture[str]
) -> None:
    specs = tmp_path / "specs"
    shutil.copytree(FROZEN, specs)
    family = specs / "families" / "skerrow" / "ketch-47.yaml"
    family.write_text(family.read_text().replace(*change, 1) if change[0] else family.read_text())
    for form in ("text", "json", "sarif", "github"):
        assert main(["check", "--specs", str(specs), "--format", form, *(["--strict"] if strict else [])]) == code
        printed = capsys.readouterr().out
        if form in ("json", "sarif"):
            json.loads(printed)
        assert ("ketch-47.yaml" in printed) == bool(change[0])


def test_a_folder_with_errors_is_not_compiled_and_the_last_good_file_stays(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    specs, out = tmp_path / "specs", tmp_path / "out.book"
    shutil.copytree(FROZEN, specs)
    assert main(["compile", "--specs", str(specs), "--out", str(out), "--json"]) == 0
    good = out.read_bytes()
    family = specs / "families" / "skerrow" / "ketch-47.yaml"
    family.write_text(family.read_text().replace("atdc: [4, 6]", "atdc: [6, 4]", 1))
    capsys.readouterr()
    assert main(["compile", "--specs", str(specs), "--out", str(out)]) == 1
    assert "the first is at" in capsys.readouterr().err
    assert out.read_bytes() == good
    assert main(["compile", "--verify", str(out)]) == 0
    assert "all checksums correct" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (["rule"], 0, "window-inverted"),
        (["rule", "window-inverted"], 0, "Why: "),
        (["rule", "window-invertd"], 3, "did you mean window-inverted"),
    ],
)
def test_rules_explain_themselves(words: list[str], code: int, said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(words) == code
    printed = capsys.readouterr()
    assert said in printed.out + printed.err
    assert main([*words, "--json"]) == code
    json.loads(capsys.readouterr().out)


REPORTED = [
    (
        "skerrow/ketch-47",
        [
            "  job reported 2026-06-30, serial 398117, year 1981",
            "    as left: max-advance 25° BTDC cranking (as shown, timing light)",
            "  job reported 2026-05-09, serial 361204, year 1979",
            "    as found: idle-speed 940 rpm running, in gear",
            "    as left: max-advance 23° BTDC cranking (true angle, 25° BTDC shown, "
            "pointer 2° BTDC at dead centre ± 0.35°, timing light)",
        ],
    ),
    ("pellwater/gregale-58", ["    as left: max-advance 20° BTDC cranking (true or as shown?)"]),
]


@pytest.mark.parametrize(("family", "lines"), REPORTED)
def test_a_family_is_shown_with_the_jobs_reported_and_how_each_angle_was_read(
    compiled_book: str, family: str, lines: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["show", family, "--book", compiled_book]) == 0
    shown = capsys.readouterr().out.splitlines()
    places = [shown.index(line) for line in lines]
    assert places == sorted(places)
    assert main(["show", family, "--book", compiled_book, "--json"]) == 0
    days = [report["on"] for report in json.loads(capsys.readouterr().out)["reports"]]
    assert days == sorted(days, reverse=True)
    assert days


def test_a_family_without_jobs_reported_says_nothing_of_them(
    compiled_book: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["show", "skerrow/barque-113", "--book", compiled_book]) == 0
    assert "reported" not in capsys.readouterr().out


def test_an_override_stands_first_of_a_job_reported(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shutil.copytree(FROZEN, tmp_path / "specs")
    report = tmp_path / "specs/reports/skerrow/ketch-47/2026-06-30-ferry-launch.yaml"
    override = "maximum spark advance: 25 BTDC, 1 degree early; left so"
    report.write_text(report.read_text("utf-8") + f'override: "{override}"\n', encoding="utf-8")
    assert main(["show", "skerrow/ketch-47", "--specs", str(tmp_path / "specs")]) == 0
    shown = capsys.readouterr().out.splitlines()
    assert shown[shown.index("  job reported 2026-06-30, serial 398117, year 1981") + 1] == f"    override: {override}"
