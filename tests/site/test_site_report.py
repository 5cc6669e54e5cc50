"""The report of a job in the browser: what the schema and the check take, and what it says where they would not."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from kb.cli import main
from kb.intake.yaml.reader import read
from tests.support.core_yaml import load
from tests.support.folders import FROZEN
from tests.support.frozen import frozen_book
from tests.support.random_jobs import HOSTILE, Told, in_node, page, random_job
from tests.support.reported import as_shown, true_angle
from tests.support.schema_files import validator


@pytest.fixture(scope="module")
def reports() -> list[dict[str, Any]]:
    """A report for each family of the demonstration book, of random readings, and one for each hostile text."""
    asked = []
    for number, family in enumerate(frozen_book().family_ids()):
        entries = random_job(number + 100, 50, family)
        asked.append({"entries": entries, "by": "mk", "on": f"2026-11-{number % 28 + 1:02d}", "page": page(family)})
    for number, text in enumerate(HOSTILE):
        told = Told()
        told.add("ran", text=text)
        told.add("note", text=text)
        told.add("reading", step="plugs", figure="plug-type", when="left", value={"code": text}, state="at-rest")
        told.add("reading", step="idle-stop", figure="idle-stop", when="found", value={"mark": text}, state="at-rest")
        asked.append({"entries": told.entries, "by": text[:40], "on": f"2027-01-{number % 28 + 1:02d}"})
    found = in_node(reports=asked)["reports"]
    assert not [one["error"] for one in found if "error" in one]
    return list(found)


def test_a_report_is_valid_and_its_file_says_the_same(reports: list[dict[str, Any]]) -> None:
    for told in reports:
        validator("report").validate(told["document"])
        validator("report").validate(load(told["yaml"]))
        reading = read(told["yaml"].encode())
        assert reading.faults == ()
        flag = {"invented": "true"}
        assert reading.data == {**told["document"], **flag}, "the reader has every text as it was"


def test_the_check_takes_them_but_for_those_that_said_what_is_needed(
    reports: list[dict[str, Any]], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Some engines lie outside what their family fits; then, and only then, the report says so beforehand."""
    shutil.copytree(FROZEN, tmp_path / "specs")
    for told in reports:
        path = tmp_path / told["path"]
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(told["yaml"], encoding="utf-8")
    assert main(["check", "--specs", str(tmp_path / "specs"), "--no-cache", "--json"]) == 1
    findings = json.loads(capsys.readouterr().out)["findings"]
    needed = {told["path"] for told in reports if any(lack["needed"] for lack in told["lacks"])}
    assert {Path(finding["file"]).relative_to(tmp_path).as_posix() for finding in findings} == needed
    assert {finding["rule"] for finding in findings} == {"report-outside-fits"}
    assert 5 < len(needed) < len(reports) / 2


def test_only_what_the_catalogue_has_a_place_for_is_reported_and_the_rest_is_told() -> None:
    told = Told()
    for degrees in ("28", "27"):
        told.read(degrees)
    for degrees in ("24", "23"):
        told.read(degrees, "left")
    told.read("21", "left", conditions={"rpm": "5000"})
    told.read("26", "left", conditions={"octane": {"ron": "92"}})
    for figure, value, state in [
        ("max-advance", {"mm": "1"}, "cranking"),
        ("max-advance", {"btdc": "9"}, ""),
        ("max-advance", {"btdc": "9"}, "at-rest"),
        ("no-such-figure", {"mm": "1"}, ""),
        ("plug-gap", {"in": "0.030"}, ""),
        ("plug-gap", {"deg": "3"}, ""),
    ]:
        told.add("reading", step="maximum", figure=figure, when="found", value=value, state=state)
    told.add("engine", serial="7", year="2011")
    told.add("correction", cranking="-1.5", running="1", rpm="4500")
    told.add("note", text="a" * 500)
    told.add("note", text="\U0001f6e5" * 200)
    asked = {"entries": told.entries, "by": " ", "on": "2026-02-30", "page": page("skerrow/ketch-47")}
    (report,) = in_node(reports=[asked])["reports"]
    document, lacks = report["document"], [lack["text"] for lack in report["lacks"]]
    assert document["as_found"] == {"max-advance": [as_shown({"btdc": "28"})], "plug-gap": [{"in": "0.030"}]}
    assert document["as_left"] == {
        "max-advance": [as_shown({"btdc": "23"}), as_shown({"btdc": "21"}, at={"rpm": "5000"})],
        "cranking-correction": [{"cranking_later": "2.5", "at": {"rpm": "4500"}}],
    }
    assert len(document["note"]) == 600
    assert sum(lack["needed"] for lack in report["lacks"]) == 4
    for words in (
        "Your initials are missing",
        "write it as 2026-03-02, not 2026-02-30",
        "How it ran is missing",
        "skerrow/ketch-47 holds the serial number 7;",
        "skerrow/ketch-47 holds the year 2011;",
        "it is not read in mm but in btdc, atdc, tdc",
        "its state is missing, one of cranking",
        "not read at-rest but cranking",
        "does not depend on octane; say that in a note",
        "no-such-figure are left out",
        "not read in deg but in in, mm",
        "The pointer was not checked at true top dead centre",
        "together has 702 characters and a report takes 600",
    ):
        assert any(words in lack for lack in lacks), (words, lacks)
    assert len(lacks) == 13


def test_a_job_of_real_data_is_not_called_invented() -> None:
    told = Told()
    told.entries[0]["invented"] = False
    asked = [{"entries": told.entries, "by": "mk", "on": "2026-11-28"}]
    (report,) = in_node(reports=asked)["reports"]
    assert "invented" not in report["document"]
    assert "invented" not in report["yaml"]
    assert [lack["text"] for lack in report["lacks"]] == [
        "Nothing was noted as found.",
        "Nothing was noted as left: only what was read after locking is.",
        "How it ran is missing.",
    ]


def test_angles_are_told_as_they_truly_were_wherever_the_pointer_stood() -> None:
    told = Told()
    for pointer, when in (("2", "found"), ("0", "left")):
        told.add("dead-centre", reads=pointer)
        told.read("25", when)
        told.add("reading", step="pickup", figure="throttle-pickup", when=when, value={"btdc": "1"}, state="cranking")
        value = {"btdc": {"in": "0.104"}}
        told.add("reading", step="maximum", figure="max-advance", when=when, value=value, state="static")
    told.add("ran", text="well")
    (report,) = in_node(reports=[{"entries": told.entries, "by": "mk", "on": "2026-11-28"}])["reports"]
    static = {"btdc": {"in": "0.104"}, "state": "static", "reads": "true-angle", "instrument": "depth-gauge"}
    off, right = {"btdc": "2"}, {"tdc": "0"}
    assert report["document"]["as_found"] == {
        "throttle-pickup": [true_angle({"atdc": "1"}, off, {"btdc": "1"})],
        "max-advance": [true_angle({"btdc": "23"}, off, {"btdc": "25"}), static],
    }
    assert report["document"]["as_left"] == {
        "throttle-pickup": [true_angle({"btdc": "1"}, right)],
        "max-advance": [true_angle({"btdc": "25"}, right), static],
    }
    assert report["lacks"] == []


STOPS = ["29.8", "-30.6"]
READ_BY: list[tuple[dict[str, Any], dict[str, Any], str, dict[str, Any]]] = [
    ({"reads": "-0.4", "stops": STOPS}, {"btdc": "23"}, "running", {
        "btdc": "23.4", "reads": "true-angle", "shown": {"btdc": "23"}, "dead_centre": {"atdc": "0.4"},
        "dead_centre_uncertainty": {"deg": "0.35"}, "instrument": "timing-light",
    }),
    ({"reads": "0.123456789", "stops": ["3", "3.0"]}, {"btdc": "23"}, "static", {
        "btdc": "22.876", "reads": "true-angle", "shown": {"btdc": "23"}, "dead_centre": {"btdc": "0.123456789"},
    }),
    ({"reads": "1"}, {"btdc": ["22", "23"]}, "static", {
        "btdc": ["21", "22"], "reads": "true-angle", "dead_centre": {"btdc": "1"},
    }),
    ({"reads": None}, {"btdc": "23"}, "static", {"btdc": "23", "reads": "as-shown"}),
]  # fmt: skip


@pytest.mark.parametrize(("centre", "read_as", "state", "told"), READ_BY)
def test_an_angle_says_what_it_was_reckoned_by_and_read_with(
    centre: dict[str, Any], read_as: dict[str, Any], state: str, told: dict[str, Any], tmp_path: Path
) -> None:
    job = Told()
    job.add("dead-centre", **centre)
    job.add("reading", step="maximum", figure="max-advance", when="left", value=read_as, state=state)
    asked = [{"entries": job.entries, "by": "mk", "on": "2026-11-28", "page": page("skerrow/ketch-47")}]
    (report,) = in_node(reports=asked)["reports"]
    assert report["document"]["as_left"]["max-advance"] == [{**told, "state": state}]
    shutil.copytree(FROZEN, tmp_path / "specs")
    (tmp_path / report["path"]).write_text(report["yaml"], encoding="utf-8")
    assert main(["check", "--specs", str(tmp_path / "specs"), "--no-cache", "--strict"]) == 0


@pytest.mark.parametrize(
    ("fits", "outside"),
    [
        ([], []),
        ([{"note": "all of that name"}], []),
        ([{"years": {"from": "1978"}}], ["1977"]),
        ([{"years": {"to": "1978"}}], ["1979"]),
        ([{"years": "1978"}], ["1977", "1979"]),
        ([{"years": ["1979", "1980"]}, {"years": ["1960", "1977"]}], ["1978"]),
    ],
)
def test_a_year_is_held_against_what_the_family_fits(fits: list[Any], outside: list[str]) -> None:
    asked = []
    for year in ("1977", "1978", "1979", ""):
        told = Told()
        told.add("engine", serial="", year=year)
        asked.append({"entries": told.entries, "by": "mk", "on": "2026-11-28", "page": {"fits": fits}})
    found = in_node(reports=asked)["reports"]
    assert [
        one["document"]["engine"]["year"] for one in found if any(lack["needed"] for lack in one["lacks"])
    ] == outside
    assert "Neither the serial number nor the year" in " ".join(lack["text"] for lack in found[3]["lacks"])
    assert "engine" not in found[3]["document"]
    assert "Neither" not in " ".join(lack["text"] for lack in found[0]["lacks"])
