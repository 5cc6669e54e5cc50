"""What is typed wrong at the bench: an exit code, what is wrong and what to type; never a traceback."""

from __future__ import annotations

import json
import shlex

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kb.book.store.writing import write_store
from tests.support.asked_book import asked_book
from tests.support.bench_calls import BENCH, call

K = "--stroke 70mm --rod 125mm"
D = "--diameter 240mm"

BAD = [
    ("deadcentre", "required"),
    ("deadcentre ''", "write two readings"),
    ("deadcentre 31 before", "write two readings"),
    ("deadcentre 31 before 27 after 30 before", "write two readings"),
    ("deadcentre 31 27", "before or after"),
    ("deadcentre 31 before 27", "before or after"),
    ("deadcentre -31 27 after", "has a sign"),
    ("deadcentre nan before 27 after", "write"),
    ("deadcentre nan 27 after", "before or after"),
    ("deadcentre inf 27", "before or after"),
    ("deadcentre '3e1 before' 27 after", "before or after"),
    ("deadcentre 031 before 27 after", "plain number"),
    ("deadcentre '31 mm' '27 mm'", "before or after"),
    ("deadcentre 31 before 31 before", "turn the other way"),
    ("deadcentre 31 before 27 before", "on one side"),
    ("deadcentre 31 after 27 after", "flywheel key"),
    ("deadcentre 5 before 4 after", "screw the stop further in"),
    ("deadcentre 80 before 78 after", "screw the stop out"),
    ("deadcentre 999999999 before 27 after", "screw the stop out"),
    ("deadcentre 9999999999999999999 before 27 after", "plain number"),
    ("deadcentre 31 before 27 after --uncertain lots", "--uncertain"),
    ("deadcentre 31 before 27 after --uncertain -1", "has a sign"),
    ("deadcentre 31 before 27 after --again 31 before", "write two readings"),
    ("deadcentre 31 before 27 after --again 29 before 28 after --again 29.5 before 34 after", "tighten stop"),
    ("deadcentre 31 before 27 after --stop-gave 0.05mm", "--stroke and --rod"),
    ("deadcentre 31 before 27 after --offset 1mm", "--stroke and --rod"),
    ("deadcentre 31 before 27 after --stop-gave 0.05", "write a number and mm or in"),
    (f"deadcentre 31 before 27 after {K} --stop-gave 0mm", "not a length above zero"),
    ("deadcentre 31 before 27 after --stroke 70mm", "--rod"),
    ("turn", "required"),
    ("turn 0 24 before", "--target"),
    ("turn --target 19 0 24 before", "before or after"),
    ("turn --target '19 mm' 0 24 before", "before or after"),
    ("turn --target '' 0 24 before", "before or after"),
    ("turn --target '19 before' 24 before", "turns and a reading"),
    ("turn --target '19 before' 0 24", "turns and a reading"),
    ("turn --target '19 before' 0 24 before 1/2", "turns and a reading"),
    ("turn --target '19 before' nan 24 before", "turns and a reading"),
    ("turn --target '19 before' 1e3 24 before", "turns and a reading"),
    ("turn --target '19 before' 1/0 24 before", "plain number"),
    ("turn --target '19 before' 0 24 before 0 22 before", "differ by more than a degree"),
    ("turn --target '19 before' ''", "no readings"),
    ("turn --target '19 before' --turning-in sideways 0 24 before", "invalid choice"),
    ("turn skerrow/example max-advance --target '19 before' 0 24 before", "target of its own"),
    ("piston", "required"),
    ("piston ''", "write degrees"),
    ("piston 24 before", "--stroke"),
    (f"piston {K} 24", "such as 24 before"),
    (f"piston {K} 24 litres", "such as 24 before"),
    (f"piston {K} nan", "such as 24 before"),
    (f"piston {K} 1e3mm", "write a number and mm or in"),
    (f"piston {K} -3mm", "has a sign"),
    (f"piston {K} 71mm", "never gets"),
    (f"piston {K} 181 before", "half a turn"),
    (f"piston {K} 24 before 25 before", "more than this asks for"),
    (f"piston {K} 24 before --hole-angle 90", "does not meet"),
    (f"piston {K} 24 before --hole-angle steep", "--hole-angle"),
    (f"piston {K} 24 before --offset 1", "write a number and mm or in"),
    (f"piston {K} 24 before --offset 90mm", "cannot turn"),
    ("piston --stroke 70mm --rod 30mm 24 before", "the rod is the longer one"),
    ("piston --stroke 0mm --rod 30mm 24 before", "--stroke"),
    ("piston --stroke 70 --rod 125mm 24 before", "--stroke"),
    ("piston --stroke 70mm --rod 125V 24 before", "--rod"),
    ("piston --stroke 70mm 24 before", "--rod"),
    (f"piston skerrow/example {K} 24 before", "in the book"),
    ("rim", "nothing to tell"),
    ("rim 19 before", "--diameter"),
    (f"rim {D}", "nothing to tell"),
    (f"rim {D} 19", "before or after"),
    (f"rim {D} 19 before --degrees 10", "one thing at a time"),
    (f"rim {D} 190 before", "half a turn"),
    (f"rim {D} --degrees ten", "--degrees"),
    (f"rim {D} --degrees -10", "has a sign"),
    (f"rim {D} --degrees 361", "one turn"),
    (f"rim {D} --degrees nan", "--degrees"),
    (f"rim {D} --tape 62", "--tape"),
    (f"rim {D} --tape 800mm", "more than once around"),
    (f"rim {D} --callipers 241mm", "no two marks"),
    (f"rim {D} --callipers '62 kg'", "--callipers"),
    ("rim --diameter 240 --degrees 10", "--diameter"),
    ("rim --diameter 0mm --degrees 10", "--diameter"),
    (f"rim {D} 19 before --division 1", "--mark"),
    (f"rim {D} 19 before --mark 21", "--mark"),
    (f"rim {D} 19 before --mark '21 before' --division 0", "a division is not worth"),
    (f"rim {D} 19 before --dead-centre-reads 2", "--dead-centre-reads"),
    (f"rim {D} --degrees 10 --tape-thickness thin", "--tape-thickness"),
    ("cylinders", "--order"),
    ("cylinders --order 1,3,2", "--strokes"),
    ("cylinders --order 1,3,3 --strokes two --even-fire", "each cylinder once"),
    ("cylinders --order 2,3 --strokes two --even-fire", "no cylinder 1"),
    ("cylinders --order 1,,2 --strokes two --even-fire", "--order"),
    ("cylinders --order '' --strokes two --even-fire", "--order"),
    ("cylinders --order 1,1.5 --strokes two --even-fire", "whole number"),
    ("cylinders --order one --strokes two --even-fire", "--order"),
    ("cylinders --order 1,2 --strokes six --even-fire", "invalid choice"),
    (f"cylinders --order {','.join(map(str, range(1, 30)))} --strokes two --even-fire", "too many"),
    ("cylinders --order 1,2 --strokes two --even-fire --figure 24", "--figure"),
    ("cylinders --order 1,2 --strokes two --even-fire --figure '200 before'", "half a turn"),
    ("cylinders skerrow/example 3", "more than this asks for"),
    ("cylinders skerrow/example --order 1,2", "leave out --order"),
    ("plates", "required"),
    ("plates 12", "write two angles"),
    ("plates 12 13 14", "write two angles"),
    ("plates 12 wide", "write"),
    ("plates nan 13", "write a number"),
    ("plates 1e1 13", "write a number"),
    ("plates -12 13", "has a sign"),
    ("plates 12 91", "up to 90"),
    ("plates 10 12", "is shut"),
    ("plates 5 12", "--opening"),
    ("plates 0 2 --opening", "is shut"),
    ("plates 2 85 --opening", "write up to 80"),
    ("plates 12 13 --closed 90", "--closed"),
    ("plates 12 13 --closed shut", "--closed"),
    ("plates 12 13 --shaft 1", "--shaft"),
    ("plates 12 13 --shaft thick", "--shaft"),
    ("plates 12mm 13mm", "write a number"),
    ("compression", "required"),
    ("compression ''", "write a number"),
    ("compression 110", "write a number and psi"),
    ("compression 110 --unit psi", "two cylinders"),
    ("compression 110 122", "write a number and psi"),
    ("compression 110 122 --unit furlongs", "invalid choice"),
    ("compression 110 122 psi --unit kPa", "another unit"),
    ("compression '110 psi' '8 bar'", "another unit"),
    ("compression 110 V 122 V", "write a number and psi"),
    ("compression 110 nan --unit psi", "write a number"),
    ("compression 110 1e2 --unit psi", "write a number"),
    ("compression 110 -5 --unit psi", "has a sign"),
    ("compression 110 0 --unit psi", "is positive"),
    (f"compression {' '.join(['110'] * 17)} --unit psi", "write one reading for each"),
    ("compression skerrow/example --unit psi", "no readings"),
    ("premix", "required"),
    ("premix ''", "not a volume"),
    ("premix 20 L", "say the ratio once"),
    ("premix 20 --ratio 50", "not a volume"),
    ("premix 20 kg --ratio 50", "not a volume"),
    ("premix nan L --ratio 50", "not a volume"),
    ("premix 1e3 L --ratio 50", "not a volume"),
    ("premix -5L --ratio 50", "has a sign"),
    ("premix 0 L --ratio 50", "nothing to mix"),
    ("premix 5 gal --ratio 50", "'5 US gal', '5 imp gal'"),
    ("premix 5 gallons --ratio 50", "which gallon"),
    ("premix 5 quarts --ratio 50", "which gallon"),
    ("premix 20 L 12 fl oz", "'12 US fl oz', '12 imp fl oz'"),
    ("premix 20 L --ratio rich", "--ratio"),
    ("premix 20 L --ratio 0", "such as 50"),
    ("premix 20 L --ratio 1/2", "such as 50"),
    ("premix 20 L 400 mL 3 L", "3 volumes"),
    ("premix 20 L 400 mL --ratio 50", "leave out --ratio"),
    ("premix 20 L --ratio 50 --family skerrow/example", "say the ratio once"),
    ("premix 20 L --ratio 50 --octane high", "octane"),
    ("rpm", "--hertz 250 --pulses 3"),
    ("rpm 5000", "unrecognized"),
    ("rpm --hertz 250", "write one of"),
    ("rpm --hertz 250 --pulses 0", "--pulses"),
    ("rpm --hertz nan --pulses 3", "--hertz"),
    ("rpm --hertz 1e3 --pulses 3", "--hertz"),
    ("rpm --hertz -5 --pulses 3", "has a sign"),
    ("rpm --hertz 999999999 --pulses 1", "faster than any outboard"),
    ("rpm --hertz 250 --pulses 3 --at 5000", "write one of"),
    ("rpm --shown 3000 --set-for 4", "write one of"),
    ("rpm --shown 3000 --set-for four --has 6", "--set-for"),
    ("rpm --delay 50 --at 5000", "--delay"),
    ("rpm --delay '50 furlongs' --at 5000", "such as '50 us'"),
    ("rpm --delay '50 us' --at ''", "--at"),
    ("rpm --delay '50 s' --at 5000", "whole turn"),
    ("rpm --lost 2 --between 5000 300", "the faster"),
    ("rpm --lost 2 --between 300", "expected 2 arguments"),
    ("rpm --lost two --between 300 5000", "--lost"),
]
"""A command and what it is told; every one exits with 2."""


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A small compiled book."""
    path = tmp_path_factory.mktemp("bad") / "asked.book"
    write_store(path, asked_book())
    return str(path)


@pytest.mark.parametrize(("words", "said"), BAD, ids=[row[0][:70] for row in BAD])
def test_bad_input_is_told_what_to_type(words: str, said: str, book: str) -> None:
    code, out, err = call(words, book)
    assert (code, out) == (2, "")
    assert said in " ".join(err.split())
    assert len(err) < 1500
    assert "Traceback" not in err

    code, out, err = call(words, book, as_json=True)
    assert (code, err) == (2, "")
    found = json.loads(out)
    assert found["error"]
    assert said in found["message"]


def test_every_command_is_in_the_table() -> None:
    assert {row[0].split()[0] for row in BAD} == set(BENCH)
    assert all(sum(row[0].split()[0] == command for row in BAD) >= 14 for command in BENCH)


@pytest.mark.parametrize(
    ("words", "code", "error"),
    [
        ("deadcentre 40 before 30 after", 4, "DeadCentreTooFar"),
        ("deadcentre no/such 31 before 27 after", 3, "FamilyNotFound"),
        ("turn no/such max-advance 0 24 before", 3, "FamilyNotFound"),
        ("turn skerrow/example max-advanse 0 24 before", 3, "FigureNotFound"),
        (
            "turn skerrow/example max-advance --state cranking --dead-centre-reads '5 before' 0 24 before",
            4,
            "DeadCentreTooFar",
        ),
        ("turn skerrow/example max-advance --state cranking --margin 9 0 24 before", 4, "MarginTooWide"),
        ("piston no/such 24 before", 3, "FamilyNotFound"),
        ("rim no/such 24 before", 3, "FamilyNotFound"),
        ("cylinders no/such", 3, "FamilyNotFound"),
        ("cylinders --order 1,2 --strokes two", 4, "OddFire"),
        ("compression no/such 110 122 --unit psi", 3, "FamilyNotFound"),
        ("compression skerrow/example 110 122 --unit psi", 3, "FigureUnknown"),
        ("premix no/such 20 L", 3, "FamilyNotFound"),
    ],
)
def test_refusals_and_what_is_not_found(words: str, code: int, error: str, book: str) -> None:
    found, out, _ = call(words, book, as_json=True)
    assert (found, json.loads(out)["error"]) == (code, error)
    assert call(words, book)[0] == code


PIECES = st.one_of(
    st.sampled_from(
        [
            "0",
            "24",
            "31",
            "1/2",
            "1 1/4",
            "0.030",
            "-1",
            "1e3",
            "nan",
            "inf",
            "999999999",
            "before",
            "after",
            "24 before",
            "27 after",
            "tdc",
            "3.47mm",
            "3.47 mm",
            "0.137 in",
            "20 L",
            "6 US gal",
            "5 gal",
            "110",
            "psi",
            "110 psi",
            "50 us",
            "skerrow/example",
            "pellwater/squall",
            "max-advance",
            "throttle-pickup",
            "1,3,2",
            "two",
            "four",
            "",
            " ",
            "°",
            "24°",
            "½",
            "２４",
            "--",
            "in",
            "out",
            "deg",
            "400 mL",
            "=",
            "0=24before",
            "\x00",
            "'",
            "24 before 25 after",
        ]
    ),
    st.text(max_size=8).filter(lambda text: not text.startswith("-")),
)
OPTIONS = {
    "deadcentre": ("--again", "--gauge", "--uncertain", "--stop-gave", "--offset", "--stroke", "--rod", "--family"),
    "turn": ("--target", "--turning-in", "--state", "--margin", "--dead-centre-reads", "--serial"),
    "piston": ("--hole-angle", "--crown-slope", "--offset", "--stroke", "--rod", "--family", "--serial"),
    "rim": ("--diameter", "--degrees", "--tape", "--callipers", "--tape-thickness", "--mark", "--division"),
    "cylinders": ("--order", "--strokes", "--even-fire", "--figure", "--family"),
    "plates": ("--opening", "--closed", "--shaft"),
    "compression": ("--unit", "--engine", "--plugs", "--family", "--serial"),
    "premix": ("--ratio", "--octane", "--family", "--year"),
    "rpm": ("--hertz", "--pulses", "--shown", "--set-for", "--has", "--delay", "--at", "--lost", "--between"),
}
SOUND = {
    "deadcentre": f"{K}",
    "turn": "--target '19 before'",
    "piston": K,
    "rim": D,
    "cylinders": "--order 1,3,2 --strokes two --even-fire",
    "plates": "",
    "compression": "--unit psi",
    "premix": "--ratio 50",
    "rpm": "",
}


@pytest.mark.parametrize("command", BENCH)
def test_no_words_make_a_traceback(command: str, book: str) -> None:
    words = st.lists(st.one_of(PIECES, st.sampled_from(OPTIONS[command])), max_size=8)

    @settings(max_examples=60, deadline=None)
    @given(words, st.booleans(), st.booleans())
    def holds(typed: list[str], soundly: bool, as_json: bool) -> None:
        sound = shlex.split(SOUND[command]) if soundly else []
        code, out, err = call([command, *sound, *typed], book, as_json=as_json)
        assert code in (0, 2, 3, 4)
        assert "Traceback" not in err
        if as_json and "--" not in typed:
            json.loads(out)

    holds()
