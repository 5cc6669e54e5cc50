"""A job's record and its file in the browser: the same in any order of entries, nothing lost, nothing let in."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Iterator
from typing import Any

from kb.errors import QuantityError
from kb.intake.models.routine import Found
from tests.support.random_jobs import Entry, Told, in_node, random_job, random_value, shared

JOBS = [random_job(seed, seed * 2) for seed in range(60)]
KINDS = {entry["kind"] for job in JOBS for entry in job}


def arrangements(job: list[Entry]) -> Iterator[list[Entry]]:
    """As they were made; as two pages that each saw a part of it have them; in any order, some twice."""
    rng = random.Random(len(job))
    yield job
    one = [entry for entry in job if rng.random() < 0.5]
    other = [entry for entry in job if entry not in one or rng.random() < 0.2]
    yield one + other
    yield other + one
    yield rng.sample([*job, *rng.choices(job, k=5)], k=len(job) + 5)


def test_a_record_is_the_same_in_whatever_order_its_entries_come() -> None:
    given = [list(arrangements(job)) for job in JOBS]
    found = iter(in_node(folds=[entries for job in given for entries in job])["folds"])
    records = [[next(found) for _ in job] for job in given]
    for job in records:
        assert "error" not in job[0]
        assert job == [job[0]] * len(job)
    assert any(record[0]["found"] and record[0]["ticks"] and record[0]["turns"] for record in records)
    assert any(record[0]["closed"] and record[0]["stops"] for record in records)
    assert len(KINDS) == 17


def test_a_file_taken_in_has_every_entry_and_says_them_alike() -> None:
    for job, told in zip(JOBS, in_node(exports=JOBS)["exports"], strict=True):
        assert (told["same"], told["again"]) == (True, True)
        assert {entry["id"]: entry for entry in told["back"]} == {entry["id"]: entry for entry in job}


def replaced_and_taken_back() -> Iterator[tuple[list[Entry], list[str]]]:
    """Jobs, and which readings as found stand at the end."""
    told = Told()
    first = told.read("28")
    yield told.entries[:], ["28"]
    second = told.read("27", replaces=first)
    yield told.entries[:], ["27"]
    undone = told.back(second)
    yield told.entries[:], ["28"]
    told.back(undone)
    yield told.entries[:], ["27"]
    third = told.read("26", replaces=second)
    told.back(second)
    yield told.entries[:], ["26"]  # it stands for what its like stood for
    told.back(third)
    yield told.entries[:], ["28"]
    told.back(first)
    told.back(told.entries[0]["id"])  # the beginning stays
    yield told.entries[:], []
    other = Told()
    entry = other.read("24", replaces=other.id())
    other.add("take-back", entry=other.id())
    yield other.entries[:], ["24"]
    ahead = {**other.entries[-1], "id": other.id(), "at": "1999-01-01T00:00:00.000Z", "entry": entry}
    yield [*other.entries, ahead], ["24"]  # nothing undoes what came after it


def test_what_is_replaced_or_taken_back_stands_no_longer_and_may_come_back() -> None:
    cases = list(replaced_and_taken_back())
    records = in_node(folds=[entries for entries, _ in cases])["folds"]
    found = [[one["value"]["btdc"] for one in record["found"].get("max-advance", [])] for record in records]
    assert found == [standing for _, standing in cases]


def test_each_reading_knows_how_the_pointer_stood() -> None:
    """As was known when it was read, or else as was found first after; a wrong finding that is taken back never was."""
    told = Told()
    told.read("21")
    wrong = told.add("dead-centre", reads="5")["id"]
    told.read("22")
    told.back(wrong)
    told.add("dead-centre", reads="2", stops=["30", "-26"])
    told.read("23")
    told.add("dead-centre", reads="0")
    told.read("24")
    told.add("dead-centre", reads=None)
    told.read("25")
    (record, without) = in_node(folds=[told.entries, [told.entries[0], told.entries[1]]])["folds"]
    stood = {one["value"]["btdc"]: one["pointer"] for one in record["found"]["max-advance"]}
    assert stood == {"21": "2", "22": "2", "23": "2", "24": "0", "25": None}
    assert without["found"]["max-advance"][0]["pointer"] is None


def test_what_is_said_again_is_as_said_last() -> None:
    told = Told()
    told.add("engine", serial="300111", by="mk")
    told.add("engine", year="", margin="1/2")
    for step, more in (("plugs", {}), ("maximum", {"stood": True}), ("plugs", {})):
        told.add("done", step=step, **more)
    for tick, on in (("a", True), ("b", False), ("b", True), ("a", False)):
        told.add("tick", step="g", tick=tick, on=on)
    ticked = told.entries[-2]["at"]
    for on in (True, False):
        told.add("tick", step="h", tick="a", on=on)
    told.add("opened", step="plugs")
    opened = told.add("opened", step="plugs")
    told.add("turn", figure="max-advance", turns="0", reads="28")
    told.add("turn", figure="max-advance", forget=True)
    turned = told.add("turn", figure="max-advance", turns="1/2", reads="-1")
    told.add("dead-centre", reads="2", stops=["30", "-26"])
    told.add("dead-centre", reads=None)
    told.add("correction", cranking="24", running="22", rpm="")
    told.add("ran", text="rough")
    told.add("ran", text="well")
    told.add("close")
    (record,) = in_node(folds=[told.entries])["folds"]
    turn = {"turns": "1/2", "reads": "-1", "cylinder": "", "entry": turned["id"], "time": turned["at"]}
    wanted = {
        "serial": "300111",
        "by": "mk",
        "year": "",
        "margin": "1/2",
        "done": ["plugs", "maximum", "plugs"],
        "stood": [1],
        "closed": told.entries[-1]["at"],
        "ticks": {"g": {"b": ticked}},
        "opened": {"plugs": {"time": opened["at"], "entry": opened["id"]}},
        "turns": {"max-advance": [turn]},
        "deadCentre": None,
        "stops": None,
        "ran": "well",
        "correction": {"cranking": "24", "running": "22", "rpm": ""},
        "began": told.entries[0]["at"],
        "changed": told.entries[-1]["at"],
        "job": told.job,
    }
    assert {key: record["id" if key == "job" else key] for key in wanted} == wanted
    assert "first entry of this job is missing" in in_node(folds=[told.entries[1:]])["folds"][0]["error"][1]


def changed(**more: Any) -> str:
    """A file with one reading, something in it changed."""
    told = Told()
    told.read("28")
    told.entries[1] |= more
    return json.dumps({"stopscrew_job": 1, "entries": told.entries})


GOOD = changed()
REFUSED: list[tuple[str, str]] = [
    ("", "not a job but another kind of file"),
    ("PK\x03\x04 not text", "not a job but another kind of file"),
    (GOOD[:-9], "cut short or changed on its way .*; export it again"),
    ("[" * 200_000, "not a job but another kind of file"),
    ("[" * 200_000 + "]" * 200_000, "this is not a job: .* nested beyond all measure"),
    ('{"stopscrew_job": 1, "entries": [' + "[" * 200_000 + "]" * 200_000 + "]}", "entry 1: .* nested beyond"),
    ("[1, 2]", r"begins with .* and this one with \[1,2\]"),
    ('{"type": "FeatureCollection"}', "this is not a job: .* this one with"),
    ('{"stopscrew_job": "1", "entries": []}', 'a whole number from 1, not "1"'),
    ('{"stopscrew_job": 0, "entries": []}', "a whole number from 1, not 0"),
    ('{"stopscrew_job": 1.5, "entries": []}', r"a whole number from 1, not 1\.5"),
    ('{"stopscrew_job": 3, "entries": []}', r"newer Stopscrew \(version 3; this one reads 2\)\. Open the site once"),
    ('{"stopscrew_job": 1}', "entries is a list of what was done, not nothing"),
    ('{"stopscrew_job": 1, "entries": []}', "entries is a list"),
    ('{"stopscrew_job": 1, "entries": {}}', "entries is a list"),
    ('{"stopscrew_job": 1, "entries": [1], "__proto__": {"polluted": 1}}', 'a job has no "__proto__"'),
    (GOOD + " " * 2_000_000, "larger than 2 MB"),
    ('{"stopscrew_job": 1, "entries": ["' + "\u05e7" * 1_000_001 + '"]}', "larger than 2 MB"),
    ('{"stopscrew_job": 1, "entries": [null]}', "entry 1: an entry is a mapping with a kind, .* not null"),
    (changed(kind="explode"), 'entry 2: .* one of begin, .* not "explode"'),
    (changed(kind="__proto__"), 'entry 2: .* not "__proto__"'),
    (changed(kind="constructor"), 'entry 2: .* not "constructor"'),
    (changed(kind=["reading"]), "entry 2: an entry is a mapping with a kind"),
    (GOOD.replace('"step"', '"__proto__"'), 'entry 2: reading has no "__proto__"'),
    (changed(toJSON="x"), 'reading has no "toJSON"; it may have id, job'),
    (changed(figure=7), "entry 2: figure of reading: write an id .*, not 7"),
    (changed(figure="../../etc"), "figure of reading: write an id"),
    (changed(when="after"), 'when of reading: write one of "found", "left", not "after"'),
    (changed(id="a b"), "id of reading: write an id of 4 to 64 letters"),
    (changed(id=None), "id of reading"),
    (changed(step=["plugs"]), "step of reading"),
    (changed(value={"btdc": 28}), 'value of reading: write the number as text, such as "24", not 28'),
    (changed(value={"btdc": "28", "atdc": "3"}), "value of reading: exactly one unit is needed, not btdc, atdc"),
    (changed(value={"btdc": "-28"}), "value of reading: '-28' is not a plain number"),
    (changed(value={"__proto__": "1"}), 'there is no unit "__proto__"'),
    (changed(value={"crank_deg": "4"}), 'there is no unit "crank_deg"'),
    (changed(value={"mark": " "}), "write mark as words"),
    (changed(value={"from": {"atdc": "3"}, "to": {"btdc": "2"}}), "is later than to"),
    (changed(value=None), "value of reading: write a unit with its number"),
    (changed(conditions={"gear": "reverse"}), "conditions of reading: gear of conditions: write one of"),
    (changed(conditions={"colour": "red"}), 'conditions has no "colour"; it may have rpm, gear'),
    (changed(conditions={"octane": {"ron": 92}}), "octane of conditions: ron of octane: write plain digits"),
    (changed(conditions=[1]), "conditions is a mapping of keys"),
    (changed(replaces=5), "replaces of reading"),
    (changed(at="yesterday"), "entry 2: at of reading: write a time, such as 2026-03-02T14:05:00.000Z"),
    (changed(at="2026-02-31T08:00:00.000Z"), "at of reading: write a time"),
    (changed(at="2026-11-28T25:00:00.000Z"), "at of reading: write a time"),
    (changed(at="2199-12-31T23:59:59.999Z"), "entry 2: it is said to be made on 2199-12-31; mend the time"),
    (changed(at="9999-01-01T00:00:00.000Z"), "at of reading: write a time"),
    (changed(at="2026-11-28T08:00:00Z"), "at of reading: write a time"),
    (changed(at=1_790_000_000_000), "at of reading: write a time"),
    (changed(kind="note"), "entry 2: note has no"),
    (GOOD.replace('"invented": true', '"invented": "yes"'), "entry 1: invented of begin: write one of true, false"),
    (GOOD.replace('"skerrow/ketch-47"', '"ketch"'), "family of begin: write a family's id"),
    (GOOD.replace(', "margin": "1"', ""), "entry 1: begin lacks margin"),
    (changed(job="another-job"), "entry 2 is of the job another-job, whose first entry is not in this file"),
    (changed(id=Told().entries[0]["id"]), "entry 2 has the id of entry 1 and says something else"),
]


MORE: list[tuple[str, dict[str, Any], str]] = [
    ("turn", {"figure": "max-advance", "turns": "1"}, "turn has turns and reads, or forget alone"),
    ("turn", {"figure": "max-advance", "forget": True, "reads": "1"}, "turn has turns and reads, or forget alone"),
    (
        "turn",
        {"figure": "max-advance", "turns": "1 3", "reads": "1"},
        'turns of turn: write turns of the screw, such as "1 1/2"',
    ),
    ("turn", {"figure": "max-advance", "turns": "1", "reads": "+1"}, "reads of turn: write signed degrees"),
    ("engine", {}, "engine changes nothing; write serial"),
    ("engine", {"serial": "#7"}, "serial of engine: write a serial number"),
    ("engine", {"year": "79"}, "year of engine: write a year of four digits"),
    ("engine", {"margin": "-1"}, "margin of engine: write degrees"),
    ("engine", {"by": "x" * 41}, "by of engine: write words, at most 40 characters"),
    ("dead-centre", {"reads": 2}, "reads of dead-centre: write signed degrees"),
    ("dead-centre", {"reads": None, "stops": ["1"]}, "stops of dead-centre: write two contacts"),
    ("dead-centre", {"reads": None, "stops": "12"}, "stops of dead-centre: write two contacts"),
    ("dead-centre", {"reads": None, "stops": ["1", 2]}, "stops of dead-centre: write signed degrees"),
    ("pointer", {"answer": "maybe"}, 'answer of pointer: write one of "moved", "stays"'),
    ("which", {"answer": "cowl"}, 'answer of which: write one of "stamp", "nothing"'),
    ("override", {"figure": "max-advance", "danger": "early"}, "override lacks text"),
    (
        "override",
        {"figure": "max-advance", "danger": "early", "text": "x" * 121},
        "text of override: write words, at most 120",
    ),
    ("correction", {"cranking": "1", "running": "2"}, "correction lacks rpm"),
    ("tick", {"step": "gate", "tick": "a", "on": 1}, "on of tick: write one of true, false"),
    ("done", {"step": "gate", "stood": False}, "stood of done: write one of true"),
    ("note", {"text": " "}, "text of note: write words, at most 2000"),
    ("note", {"text": "x" * 2001}, "text of note: write words, at most 2000"),
    ("close", {"why": "x"}, 'close has no "why"'),
    ("take-back", {"entry": ""}, "entry of take-back: write an id"),
]


def test_every_kind_of_entry_is_read_by_its_own_keys() -> None:
    files = []
    for kind, said, _ in MORE:
        told = Told()
        told.add(kind, **said)
        files.append(json.dumps({"stopscrew_job": 1, "entries": told.entries}))
    for (_, _, words), told in zip(MORE, in_node(files=files)["files"], strict=True):
        assert told["error"][1].startswith(f"entry 2: {words}"), (words, told)


def test_a_file_that_is_no_job_or_a_broken_one_is_refused_and_says_where() -> None:
    answer = in_node(files=[GOOD, "\ufeff" + GOOD, *(text for text, _ in REFUSED)])
    assert [len(entries) for entries in answer["files"][:2]] == [2, 2]
    for (text, words), told in zip(REFUSED, answer["files"][2:], strict=True):
        assert "error" in told, text[:200]
        name, message = told["error"]
        assert name == "QuantityError", (message, text[:200])
        assert re.search(words, message), (words, message)
        assert len(message) < 500
    assert answer["polluted"] is False


def read_in_python(value: Any) -> bool:
    try:
        Found.model_validate(value)
    except (ValueError, QuantityError):
        return False
    return True


CONDITIONS: list[dict[str, Any]] = [
    {"rpm": "5000"},
    {"rpm": ["700", "750"]},
    {"rpm": ["750", "700"]},
    {"rpm": ["1", "2", "3"]},
    {"rpm": ""},
    {"rpm": "1/2"},
    {"gear": "in-gear", "engine": "cold"},
    {"gear": "first"},
    {"cylinder": "1"},
    {"cylinder": "0"},
    {"cylinder": "100000"},
    {"bank": "port"},
    {"bank": "left"},
    {"carburettor": "2", "plugs": "out"},
    {"plugs": "off"},
    {"module": "connected"},
    {"octane": {"ron": "92", "aki": "87"}},
    {"octane": {}},
    {"octane": "92"},
    {"octane": {"ron": "-1"}},
    {"altitude": {"m": "750"}},
    {"altitude": {"m": "1", "ft": "3"}},
    {"altitude": {}},
    {"altitude": "750"},
    {"wind": "1"},
]


def test_conditions_are_those_that_the_book_takes() -> None:
    answer = in_node(files=[changed(conditions=one) for one in CONDITIONS])["files"]
    found = [(one, "error" not in told) for one, told in zip(CONDITIONS, answer, strict=True)]
    assert found == [(one, read_in_python({"mm": "1", "at": one})) for one in CONDITIONS]
    assert sum(taken for _, taken in found) == 9


def test_a_value_is_one_where_the_book_takes_it_for_one() -> None:
    """Bounds, tolerances and tables are of pages; a reading has none."""
    rng = random.Random(5)
    units = sorted({unit for kind in shared()["figures"].values() for unit in kind["units"]} - {"by_rpm"})
    texts = ["0", "24", "0.030", "-3", "010", "1e3", "7/64", "64/7", "1 1/4", "", " 4", "NaN", "\u0664", "9" * 10]
    values = [random_value(rng, rng.choice(units)) for _ in range(300)]
    for unit in (*units, "degC", "nonsense", "piston_mm"):
        values += [{unit: text} for text in texts]
        more: list[Any] = [rng.sample(texts, 2), ["1", "2", "3"], [], {"in": "0.1"}, None]
        values += [{unit: one} for one in more]
    values += [{"from": {one: "2"}, "to": {other: "3"}} for one in ("btdc", "atdc", "mm") for other in ("btdc", "atdc")]
    values += [{}, {"from": {"btdc": "2"}}, {"btdc": {"mm": "1", "in": "2"}}]
    values += [{"from": {"btdc": {"mm": "1"}}, "to": {"tdc": "0"}}]
    found = ["error" not in told for told in in_node(values=values)["values"]]
    assert [(value, one) for value, one in zip(values, found, strict=True) if one != read_in_python(value)] == []
    assert 300 < sum(found) < len(found) - 300
