"""The bench's commands as a mechanic types them: what each says, its JSON, its working, whole outputs."""

from __future__ import annotations

import json
import re
import shlex
from collections.abc import Callable

import pytest

from kb.cli import main
from tests.support.bench_calls import FIRST, INVENTED, call, document
from tests.support.folders import ROOT

TRADE = "the trade's check values"
PRACTICE = "common practice, no source"
GEOMETRY = "plain geometry, reckoned by hand"
BOOK = "the demonstration book"


ROWS = [
    ("deadcentre '31 before' '27 after'", 0, "the pointer shows 2 before at true top dead centre", TRADE),
    ("deadcentre 31 before 27 after", 0, "--dead-centre-reads '2 before'", TRADE),
    ("deadcentre 27 after 31 before", 0, "shows 2 before", "either contact first"),
    ("deadcentre 28BTDC 31ATDC", 0, "shows 1.5 after", GEOMETRY),
    ("deadcentre 30 before 30 after", 0, "shows 0 at true top dead centre", GEOMETRY),
    ("deadcentre --gauge 30 before 27 after", 0, "by dial gauge", GEOMETRY),
    ("deadcentre 31 before 27 after --uncertain 0.5", 0, "uncertainty 0.71° either way", "2 x 0.5 / root of 2"),
    ("deadcentre 31 before 27 after --again 30.5 before 26.5 after", 0, "scatter of the 2 pairs", "JCGM 100, 4.2"),
    ("deadcentre 31 before 27 after", 0, "assumed good to 0.25 degree", "what is taken is said"),
    ("deadcentre 15 before 12 after", 0, "20 to 40 degrees each side are better", PRACTICE),
    ("deadcentre 32.9 before 27 after", 0, "may be beyond 3 degrees", "2.95 and 0.35 of uncertainty"),
    ("deadcentre 31 before 27 after", 0, "take the stop out of the plug hole before", "29 CFR 1910.212 in principle"),
    ("deadcentre 33 before 27 after", 0, "shows 3 before", "3 degrees is the last that goes on"),
    ("deadcentre 34 before 27 after", 4, "the pointer shows 3.5 before at true top dead centre", PRACTICE),
    ("deadcentre 27 before 34 after", 4, "flywheel key", PRACTICE),
    ("deadcentre 40 before 30 after", 4, "right flywheel and cylinder", PRACTICE),
    ("deadcentre 10 before 10 after --stroke 70mm --rod 125mm --stop-gave 0.05mm", 0, "0.18° off", "rim of references"),
    ("deadcentre 25 before 25 after --stroke 70mm --rod 125mm --offset 1mm", 0, "0.01 after", "bias of references"),
    ("deadcentre skerrow/ketch-47 31 before 27 after --stop-gave 0.05mm", 0, "file of skerrow/ketch-47", BOOK),
    (
        "turn --target '28 before' 0 24 before 0.5 25 before 1 25.8 before 1.5 26.7 before",
        0,
        "1/4 turn in",
        "0.7303 turns from the last reading, the eighth below it, half of that",
    ),
    ("turn --target '19 before' 0 24 before 1/2 22 before", 0, "turn the screw 3/4 turn in", "4 degrees a turn"),
    ("turn --target '19 before' 0 24 before 1/2 22 before", 0, "45 minutes on a clock face, or 4.5 flats", TRADE),
    (
        "turn --target '19 before' 0 18 before 1/2 20 before",
        0,
        "backlash: go 3/4 turn out, then come back 1/2 turn in",
        "the target lies behind the last movement, and the way there is later",
    ),
    ("turn --target '23 before' 0 24 before 1/2 22 before", 0, "turn the screw 1/4 turn out", "4 degrees a turn"),
    (
        "turn --target '23 before' 0 24 before 1/2 22 before",
        0,
        "not a false late reading: the lever",
        "earlier, so asked",
    ),
    ("turn --target '23 before' 0 27 before 1 24.6 before 1 1/2 23 before", 0, "on target, leave it", "off the line"),
    ("turn --target '23 before' 0 27 before 1 22.5 before", 0, "on target, leave it", "half a degree late, by eye"),
    ("turn --target '23 before' 0 23.5 before 0 23 before", 0, "it reads 23.5 before", "the earliest counts"),
    ("turn --target '22 before' 0 24 before 1/2 22 before", 0, "on target, leave it", "it stands there"),
    ("turn --target '22 before' 0 24 before 1/2 out 22 before", 0, "on target, leave it", "turned out, too"),
    ("turn --target '19 before' 0=24before 1/2=22before", 0, "3/4 turn in", "as one word each"),
    ("turn --target '19 before' --turning-in later 0 24 before", 0, "1/2 turn in, read again", "a first trial"),
    ("turn --target '19 before' --turning-in earlier 0 24 before", 0, "1/2 turn out, read again", "a first trial"),
    ("turn --target '19 before' 0 24 before", 0, "which way this screw works is not known", "a first trial"),
    ("turn --target '24 before' --turning-in later 0 20 before", 0, "1/2 turn in, read again", "later, to learn"),
    ("turn --target '24 before' --turning-in later 0 20 before", 0, "goes later, on the safe side", "and says so"),
    (
        "turn --target '24 before' --turning-in earlier 0 20 before 0 20 before",
        0,
        "1/2 turn out",
        "read twice, later too",
    ),
    ("turn --target '19 before' 0 24 before 1/2 22 before", 0, "only that reading counts as left", PRACTICE),
    ("turn --target '5 before' 0 24 before 1/8 23.8 before", 0, "1/4 turn in", "twice what the readings cover"),
    ("turn --target '19 before' 0 24 before 1 24 before", 2, "hardly moves", "a slope of zero"),
    ("turn --target '19 before' 0 24 before 1 20 before 2 23.5 before", 2, "go both ways", "readings that contradict"),
    ("turn --target '19 before' --turning-in earlier 0 24 before 1 22 before", 2, "against what the", "and do not"),
    (
        "turn skerrow/ketch-47 max-advance --state cranking --serial 301455 --margin 1 0 26 before 1 25 before",
        0,
        "turn the upper stop screw on the spark lever 2 turns in",
        BOOK,
    ),
    ("turn skerrow/ketch-47 throttle-pickup 0 9 after 1/2 8 after", 0, "the target is 5 after", BOOK),
    (
        "turn skerrow/ketch-47 throttle-pickup 0 9 after 1/2 8 after --dead-centre-reads '1 before'",
        0,
        "the target is 4 after",
        BOOK,
    ),
    ("turn skerrow/ketch-47 throttle-pickup 0 9 after --dead-centre-reads '4 before'", 4, "the flywheel key", BOOK),
    ("turn skerrow/ketch-47 plug-gap 0 9 after 1 8 after", 4, "not set by the timing light", BOOK),
    ("piston skerrow/ketch-47 '24 before'", 0, "3.47 mm (0.137 in) below its top", "the book's page has 3.47 mm too"),
    ("piston skerrow/ketch-47 3.47 mm", 0, "23.98 before or 23.98 after", "and back"),
    ("piston skerrow/ketch-47 3.47 mm before", 0, "3.47 mm is 23.98 before top dead centre", "and back"),
    ("piston skerrow/ketch-47 3.47 mm", 0, "0.01 mm, is worth 0.035° there", "0.01 mm over 0.284 mm a degree"),
    ("piston --stroke 70mm --rod 125mm 90 after", 0, "the piston is 40 mm", "125² less 35² is 120²"),
    ("piston --stroke 70mm --rod 125mm 0", 0, "never set by the peak of a gauge", PRACTICE),
    ("rim --diameter 240mm --degrees 60", 0, "120 mm (4.724 in) across by callipers", "the chord of 60 is the radius"),
    ("rim --diameter 240mm --degrees 200", 0, "callipers do not reach beyond half a turn", GEOMETRY),
    ("rim skerrow/ketch-47 '19 before'", 0, "1 division, 1° from the mark 18° BTDC toward 27° BTDC", BOOK),
    (
        "rim --diameter 240mm '19 before' --mark '21 before' --division 1",
        0,
        "2 divisions, 2° on the late side of the mark 21 before",
        TRADE,
    ),
    (
        "rim --diameter 240mm '20 before' --mark '21 before' --mark '14 before' --division 1",
        0,
        "1 division, 1° from the mark 21 before toward 14 before, on its late side",
        TRADE,
    ),
    (
        "rim --diameter 240mm '23 before' --mark '21 before' --mark '14 before'",
        0,
        "2° on the early side of the mark 21 before, away from 14 before",
        TRADE,
    ),
    ("rim skerrow/ketch-47 '19 before'", 0, "to the early side, clockwise seen from above", BOOK),
    ("rim --diameter 240mm '19 after'", 0, "to the late side, against the way the flywheel turns", GEOMETRY),
    ("rim --diameter 240mm '19 before'", 0, "to the early side, the way the flywheel turns", GEOMETRY),
    ("rim --diameter 240mm '19 before' --mark '21 before' --division 1", 0, "past the last number", TRADE),
    ("rim --diameter 240mm '19 before' --dead-centre-reads '2 before'", 0, "17° from your own mark", GEOMETRY),
    ("rim --diameter 240mm '19 before' --dead-centre-reads '4 before'", 4, "flywheel key", PRACTICE),
    ("cylinders --order 1,2,3,4,5,6 --strokes two --even-fire", 0, "a spark every 60° of the crank", TRADE),
    ("cylinders skerrow/ketch-47", 0, "cylinder 3: top dead centre 120° after cylinder 1's", BOOK),
    ("cylinders skerrow/ketch-47", 0, "along the rim from its mark, anticlockwise seen from above", BOOK),
    ("cylinders skerrow/ketch-47 --figure '24 before'", 0, "at its 24 before the pointer shows 96 after", GEOMETRY),
    ("cylinders --order 3,2,1 --strokes two --even-fire", 0, "cylinder 3: top dead centre 120° after", "from one on"),
    ("cylinders --order 1-3-4-2 --strokes four --even-fire", 0, "1 and 4 fire at the same place", "720 modulo 360"),
    ("cylinders --order 1 --strokes two", 0, "cylinder 1: top dead centre at the mark 0", "one needs no even fire"),
    ("cylinders --order 1,3,2 --strokes two", 4, "write --even-fire", "nobody says so"),
    ("cylinders hollin-drake/mallet-43", 4, "uneven intervals", BOOK),
    ("plates 12 13", 0, "the second plate lets through 1.567 times", "check values of the throttle plate"),
    ("plates 30 31", 0, "1.075 times", "check values of the throttle plate"),
    ("plates 2 3 --opening", 0, "1.567 times", "the same, counted from closed"),
    ("plates 12 13", 0, "at 60° and 61°: 1.031 times", "the contrast near full"),
    ("plates 13 12", 0, "the first plate lets through 1.567 times", "either one wider"),
    ("plates 12 12", 0, "both plates let the same air through", GEOMETRY),
    ("compression 110 122 --unit psi", 0, "9.8 % of the highest, 10.3 % of the mean, 10.9 % of the lowest", TRADE),
    ("compression 110 122 118 psi", 0, "lowest 110 psi, cylinder 1; highest 122 psi, cylinder 2", TRADE),
    ("compression 120 120 --unit psi", 0, "all cylinders read 120 psi", GEOMETRY),
    ("compression 12 10 --unit psi", 0, "is psi the unit on the gauge?", "60 to 180 psi, common practice"),
    ("compression 110 122 --unit psi", 0, "common practice, no source", PRACTICE),
    ("compression skerrow/ketch-47 110 122 118 --unit psi", 0, "all inside the book's 105 to 125 psi", BOOK),
    (
        "compression 100 122 130 --unit psi --family skerrow/ketch-47",
        0,
        "cylinder 1 (too low) and cylinder 3 (too high)",
        BOOK,
    ),
    ("compression skerrow/wherry-2-7 85 --unit psi", 0, "85 psi: only one cylinder, nothing to compare", GEOMETRY),
    ("compression skerrow/wherry-2-7 60 --unit psi", 0, "at least 64 psi: cylinder 1 (too low)", BOOK),
    ("compression skerrow/ketch-47 760 840 --unit kPa", 0, "2 readings for 3 cylinders", BOOK),
    ("premix 20 L --ratio 50", 0, "400 mL of oil for 20 L of petrol, at 50:1", "20 L / 50"),
    ("premix 6 US gal --ratio 50:1", 0, "15.4 US fl oz", "6 x 128 / 50 is 15.36, rounded up"),
    ("premix 5 imp gal --ratio 50", 0, "16 imp fl oz", "5 x 160 / 50"),
    ("premix 5 imperial gallons --ratio 50", 0, "one imperial gallon is 4.546 L", "NIST SP 811"),
    ("premix skerrow/ketch-47 20 litres", 0, "at 50:1", BOOK),
    ("premix 20 L 400 mL", 0, "20 L of petrol and 400 mL of oil are 50:1", "20 000 / 400"),
    ("premix 20 L --ratio 10", 0, "usually 16:1 to 100:1", PRACTICE),
    ("premix 5 gal --ratio 50", 2, "which gallon", "the gallon is named"),
    ("premix 5 L 12 oz", 2, "which fluid ounce", "and the ounce"),
    ("rpm --hertz 250 --pulses 3", 0, "5000 rpm", "60 x 250 / 3"),
    ("rpm --hertz 50 --pulses 1/2", 0, "6000 rpm", "a four-stroke cylinder"),
    ("rpm --shown 3000 --set-for 4 --has 6", 0, "the true speed is 2000 rpm", "3000 x 4 / 6"),
    ("rpm --delay '50 us' --at 5000", 0, "1.5° later at 5000 rpm", "6 N t"),
    ("rpm --lost 2 --between 300 5000", 0, "a delay of 70.9 µs", "check value of the delay"),
]


@pytest.mark.parametrize(("words", "code", "said", "source"), ROWS, ids=[row[0] for row in ROWS])
def test_what_a_command_says(words: str, code: int, said: str, source: str, compiled_book: str) -> None:
    found, out, err = call(words, compiled_book)
    assert found == code, out + err
    text = " ".join((out + err).split())
    assert said in text
    if code == 0:
        assert out.rstrip().endswith(FIRST)
        assert not err
    named = any(name in words for name in ("skerrow/", "hollin-drake/"))
    if code != 2 and named:
        assert INVENTED in text
        assert "data of 20" in text
    elif code == 0:
        assert INVENTED not in text
        assert "data of" not in text


DONE = [row[0] for row in ROWS if row[1] == 0]


@pytest.mark.parametrize("words", DONE)
def test_json_says_the_same(words: str, compiled_book: str) -> None:
    found = document(words, compiled_book)
    text = " ".join(call(words, compiled_book)[1].split())
    for line in (found["title"], *found["answer"], *found["remarks"], *found["cautions"]):
        assert line in text
    assert found["order_of_trust"] == FIRST
    assert ("date" in found) == ("invented" in found) == ("data of 20" in text)
    assert all(re.fullmatch(r"[a-zA-Z0-9_]+", name) for name in found["values"])


@pytest.mark.parametrize("words", DONE)
def test_the_working_leads_to_the_answer(words: str, compiled_book: str) -> None:
    found = document(words, compiled_book)
    assert found["working"]
    for step in found["working"]:
        assert step["name"]
        assert step["formula"]
        assert step["inputs"]
        assert all(given["name"] and given["value"] and given["source"] for given in step["inputs"]), step
    answer = " ".join(found["answer"])
    for part in re.split(r" = | and |, ", found["working"][-1]["result"]):
        said = part.partition(": ")[2] or part
        assert said in answer or ("on target, leave it" in answer and part == "no turn") or said in ("0°", "0"), part


SAME = [
    ("deadcentre 31 before 26.5 after", {"dead_centre_reading_deg": "2.25", "expanded_uncertainty_deg": "0.35"}),
    ("turn --target '19 before' 0 24 before 1/2 22.1 before", {"target_deg": "19"}),
    (
        "piston --stroke 64mm --rod 120mm 24 before",
        {"position_mm": "3.47", "position_in": "0.137", "last_digit_deg": "0.035"},
    ),
    ("piston --stroke 70mm --rod 125mm 2.000mm --hole-angle 30", {"before_deg": "16.02", "after_deg": "16.02"}),
    ("rim --diameter 240mm --degrees 10", {"tape_mm": "20.94", "callipers_mm": "20.92"}),
    ("rim --diameter 240mm --tape 62mm --callipers 62mm", {"by_tape_deg": "29.6", "by_callipers_deg": "29.94"}),
    ("cylinders --order 1,3,2 --strokes two --even-fire", {"spark_every_deg": "120"}),
    ("plates 12 13", {"air_ratio": "1.567", "air_ratio_wide": "1.031"}),
    (
        "compression 110 122 118 --unit psi",
        {
            "lowest_psi": "110",
            "highest_psi": "122",
            "mean_psi": "116.7",
            "spread_psi": "12",
            "spread_percent_of_highest": "9.8",
            "spread_percent_of_mean": "10.3",
            "spread_percent_of_lowest": "10.9",
        },
    ),
    ("premix 20 L 410 mL", {"parts_to_one": "48.8"}),
    ("rpm --hertz 250 --pulses 4", {"rpm": "3750"}),
    ("rpm --delay '70.9 us' --at 4700", {"lost_deg": "2"}),
]


@pytest.mark.parametrize(("words", "numbers"), SAME, ids=[row[0] for row in SAME])
def test_values_are_the_numbers_of_the_text(words: str, numbers: dict[str, str]) -> None:
    found = document(words)
    answer = " ".join(found["answer"])
    for name, text in numbers.items():
        assert re.search(rf"(?<![\d.]){re.escape(text)}(?![\d.]*\d)", answer), (name, answer)
        decimals = len(text.partition(".")[2])
        assert abs(round(found["values"][name], max(decimals, 1)) - float(text)) <= 0.5 * 10**-decimals


WHOLE = {
    "deadcentre": "deadcentre skerrow/ketch-47 31 before 27 after --again 30.5 before 26.5 after --stop-gave 0.05mm",
    "turn": "turn skerrow/ketch-47 max-advance --state cranking --serial 301455 --margin 1 0 27 before 1/2 25 before",
    "piston": "piston skerrow/ketch-47 24 before --hole-angle 20",
    "rim": "rim skerrow/ketch-47 19 before --dead-centre-reads '2 before'",
    "cylinders": "cylinders skerrow/ketch-47 --figure '24 before'",
    "plates": "plates 12 13 --closed 10 --shaft 0.2",
    "compression": "compression skerrow/ketch-47 100 122 118 --unit psi",
    "premix": "premix skerrow/ketch-47 6 US gal",
    "rpm": "rpm --lost 2 --between 300 5000",
}
"""One call of each command, whose whole output is kept."""


@pytest.mark.parametrize("name", WHOLE)
def test_whole_outputs(name: str, compiled_book: str, golden: Callable[[str, str], None]) -> None:
    code, out, err = call(WHOLE[name], compiled_book)
    assert (code, err) == (0, "")
    assert max(map(len, out.splitlines())) <= 100
    golden(f"bench/{name}.txt", f"$ stopscrew {WHOLE[name]}\n{out}")


@pytest.mark.parametrize("name", WHOLE)
def test_whole_documents(name: str, compiled_book: str, golden: Callable[[str, str], None]) -> None:
    code, out, _ = call(WHOLE[name], compiled_book, as_json=True)
    assert code == 0
    golden(f"bench/{name}.json", json.dumps(json.loads(out), ensure_ascii=False, indent=1) + "\n")


@pytest.mark.parametrize("name", WHOLE)
def test_options_may_stand_anywhere(name: str, compiled_book: str) -> None:
    """The family stays first and the words in their order; the options go to the front of them all."""
    words = shlex.split(WHOLE[name])
    begin = next((at for at, word in enumerate(words) if word.startswith("--")), len(words))
    if words[begin : begin + 1] == ["--again"]:
        return  # it takes as many words as follow
    moved = [words[0], *words[begin:], *words[1:begin]]
    if name != "turn":
        assert call(moved, compiled_book) == call(words, compiled_book)


def test_a_family_by_name_and_serial(compiled_book: str) -> None:
    code, out, _ = call("piston --family 'Ketch 47' --serial 301455 24 before", compiled_book)
    assert code == 0
    assert "3.47 mm" in out
    code, _, err = call("piston --family 'Ketch 47' 24 before", compiled_book)
    assert code == 3
    assert "skerrow/ketch-47-late" in err


def test_help_is_grouped_and_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["--help"])
    text = capsys.readouterr().out
    groups = [text.index(f"\n{group}:\n") for group in ("look up", "the bench", "contribute")]
    assert groups == sorted(groups)
    bench = text[groups[1] : groups[2]]
    assert all(re.search(rf"^  {name} +\S", bench, re.MULTILINE) for name in WHOLE)


@pytest.mark.parametrize("name", WHOLE)
def test_help_has_examples_that_run(name: str, compiled_book: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main([name, "--help"])
    examples = re.findall(r"^  stopscrew (.*)$", capsys.readouterr().out, re.MULTILINE)
    assert examples
    for example in examples:
        assert call(example, compiled_book)[0] == 0, example


def test_no_command_of_the_bench_keeps_a_dead_centre_reading() -> None:
    """It belongs to one engine and one day: no file of the bench writes anything."""
    for file in (ROOT / "kb" / "bench").glob("*.py"):
        assert not re.search(r"\bopen\(|write_text|write_bytes|print\(|argparse", file.read_text()), file.name
