"""What stands on a cowl tag and in its code, for jobs of every kind; the encoder is the one that was looked at."""

from __future__ import annotations

import hashlib
import json
import re
from typing import Any

import pytest

from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from tests.support.folders import ASSETS, ROOT
from tests.support.frozen import frozen_book
from tests.support.job_entries import FAMILY, Entry, begin, entry, left, whole_job
from tests.support.node import run_node

FIRST = "The maker's own instructions, local rules and a licensed mechanic come first."
LONG = "a mark on the bracket in line with the upper of the two lines, seen from the front with a mirror " * 3
MARKS = ("idle-stop", "throttle-plate-rest", "plug-gap", "trigger-gap", "no-such-figure")
JOBS: dict[str, list[Entry]] = {
    "whole": whole_job(),
    "whole, pointer off": whole_job("1.5"),
    "pointer off": [begin(), entry("dead-centre", reads="2"), left("max-advance", {"btdc": "25"})],
    "pointer late": [
        begin(),
        entry("dead-centre", reads="-1.5"),
        left("throttle-pickup", {"atdc": ["5", "6"]}),
        left("max-advance", {"btdc": {"mm": "3.1"}}),
        left("idle-timing", {"btdc": "1"}),
    ],
    "pointer moved": [
        begin(),
        entry("dead-centre", reads="2"),
        left("max-advance", {"btdc": "25"}),
        entry("dead-centre", reads="0"),
        left("throttle-pickup", {"atdc": "5"}),
    ],
    "pointer unknown": [begin(margin="1 1/2"), left("max-advance", {"btdc": "22.5"})],
    "nothing": [begin(serial="", year="", margin="")],
    "cylinders": [
        begin(),
        *(left("compression", {"psi": str(110 + number)}, cylinder=str(number)) for number in (1, 2, 3)),
        left("compression", {"psi": "114"}, cylinder="2"),
    ],
    "correction late": [begin(), entry("correction", cranking="20.5", running="22", rpm="")],
    "correction none": [begin(), entry("correction", cranking="22", running="22", rpm="4500")],
    "replaced": [
        begin(),
        first := left("plug-type", {"code": "TQ 41-L"}, "at-rest"),
        left("plug-type", {"code": "TQ 43-L"}, "at-rest", replaces=first["id"]),
    ],
    "too much": [*whole_job("2"), *(left(figure, {"mark": LONG}, "at-rest") for figure in MARKS)],
    "one less": [*whole_job("2"), *(left(figure, {"mark": LONG}, "at-rest") for figure in MARKS[1:])],
    "far too much": [
        begin(name="🛥" * 100, serial="A" * 31),
        entry("engine", by="ß" * 40),
        *(left(figure, {"mark": "🛥" * 300}) for figure in ("max-advance", "throttle-pickup", "plug-gap")),
    ],
    "odd words": [
        begin(name="https://bad.example/ WIFI:S:x;;\n\u202e\ttab"),
        left("idle-stop", {"mark": "<b>\nBEGIN:VCARD"}),
    ],
}


@pytest.fixture(scope="module")
def made() -> Any:
    given = {
        "pages": {FAMILY: family_page(frozen_book(), FAMILY)},
        "shared": shared_document(frozen_book()),
        "jobs": [[FAMILY, entries] for entries in JOBS.values()],
    }
    done = run_node("tag_lines.mjs", ASSETS, given=json.dumps(given))
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@pytest.fixture(scope="module")
def tags(made: Any) -> dict[str, Any]:
    return dict(zip(JOBS, made["tags"], strict=True))


def test_a_whole_job(tags: dict[str, Any]) -> None:
    assert tags["whole"]["text"].splitlines() == [
        "As left 2026-11-28, Skerrow Ketch 47, serial 361204, of 1979",
        "maximum spark advance: 23° BTDC cranking",
        "maximum spark advance: 21° BTDC running, 5000 rpm",
        "throttle pickup: 5° ATDC cranking",
        "this engine's correction: reads 2° earlier cranking than at 5000 rpm",
        "pointer: right at true top dead centre",
        "margin kept: 1° late",
        "idle speed: 750 rpm running, in gear",
        "by mk",
        "Invented demonstration data",
        FIRST,
    ]
    assert tags["whole"]["leftOut"] == tags["whole, pointer off"]["leftOut"] == []


LINES = [
    ("pointer off", "maximum spark advance", "23° BTDC cranking (read as 25° BTDC)"),
    ("pointer off", "pointer", "showed 2 before at true top dead centre"),
    ("pointer late", "throttle pickup", "3.5 to 4.5° ATDC cranking (read as 5 to 6° ATDC)"),
    ("pointer late", "maximum spark advance", "3.1 mm of piston travel BTDC cranking"),
    ("pointer late", "idle timing", "2.5° BTDC cranking (read as 1° BTDC)"),
    ("pointer moved", "maximum spark advance", "23° BTDC cranking (read as 25° BTDC)"),
    ("pointer moved", "throttle pickup", "5° ATDC cranking"),
    ("pointer moved", "pointer", "right at true top dead centre"),
    ("pointer unknown", "pointer", "not checked at true top dead centre"),
    ("pointer unknown", "margin kept", "1.5° late"),
    ("nothing", "as left", "no reading was noted"),
    (
        "cylinders",
        "cranking compression",
        "111 psi in cylinder 1, 114 psi in cylinder 2, 113 psi in cylinder 3 cranking",
    ),
    ("correction late", "this engine's correction", "reads 1.5° later cranking than running"),
    ("correction none", "this engine's correction", "reads the same cranking as at 4500 rpm"),
    ("replaced", "spark plug", "TQ 43-L at rest"),
]


@pytest.mark.parametrize(("job", "label", "value"), LINES)
def test_what_a_line_says(tags: dict[str, Any], job: str, label: str, value: str) -> None:
    assert [line[1] for line in tags[job]["lines"] if line[0] == label] == [value]
    assert f"\n{label}: {value}\n" in tags[job]["text"]


def test_no_pointer_is_spoken_of_where_nothing_was_read_by_it(tags: dict[str, Any]) -> None:
    for job in ("nothing", "cylinders", "replaced"):
        assert "pointer" not in [label for label, _ in tags[job]["lines"]]


@pytest.mark.parametrize("job", JOBS)
def test_every_code_can_be_read_and_says_what_matters_most(made: Any, tags: dict[str, Any], job: str) -> None:
    tag = tags[job]
    text = tag["text"]
    assert len(text.encode()) <= made["room"]
    assert tag["code"]["size"] in [4 * version + 17 + 2 * 4 for version in range(1, 19)], "four modules of white around"
    assert tag["code"]["path"].startswith("M4 4h7v1h-7z")
    assert text.startswith("As left 2026-11-28, "), "no name makes a reader take it for a link"
    assert re.search(r"\nInvented demonstration data\n", text)
    assert text.endswith(FIRST)
    assert not re.search(r"[\t\r\u2028\u202e]", text)
    held = [line for line in text.splitlines()[1:] if ": " in line]
    named = [line.partition(": ")[0] for line in held]
    assert named + tag["leftOut"] == [label for label, _ in tag["lines"]], "what is not in it is told"
    assert bool(tag["leftOut"]) is ("more on the tag or in the record" in text)


@pytest.mark.parametrize("job", ["too much", "one less"])
def test_what_does_not_fit_goes_from_the_end(made: Any, tags: dict[str, Any], job: str) -> None:
    tag = tags[job]
    assert tag["leftOut"][-1] == "no such figure"
    assert "maximum spark advance: 21° BTDC cranking (read as 23° BTDC)\n" in tag["text"]
    assert f"\nand {len(tag['leftOut'])} more on the tag or in the record\n" in tag["text"]
    label, value = tag["lines"][-len(tag["leftOut"])]
    shortest = min(len(value.encode()), 80)
    assert len(f"{tag['text']}\n{label}: ".encode()) + shortest > made["room"], "one more would not fit"
    assert "🛥…, serial AAAA" in tags["far too much"]["text"], "no letter is cut in two"


def test_a_code_of_that_size_holds_so_much_and_no_more(made: Any) -> None:
    assert made["fits"] == [True, False]


@pytest.mark.parametrize("name", ["lean-qr.js", "lean-qr-licence.txt"])
def test_the_encoder_is_byte_for_byte_what_its_package_holds(name: str) -> None:
    guide = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    told = re.search(rf"^\| `{name}` .*`([0-9a-f]{{64}})` \|$", guide, re.MULTILINE)
    assert told
    assert hashlib.sha256((ASSETS / "vendor" / name).read_bytes()).hexdigest() == told[1]
