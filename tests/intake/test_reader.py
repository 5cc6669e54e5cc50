"""Reading: data as text, faults with what was found, and what is left of a file that is half right."""

from __future__ import annotations

import re
import subprocess
import sys
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from kb.finding import WHOLE_FILE, Part
from kb.intake.yaml.reader import MOST_BYTES, ReadText, read
from tests.support.folders import FROZEN, ROOT


def told(reading: ReadText) -> list[tuple[str, str]]:
    """Each fault's rule with the text it marks."""
    return [(fault.rule, reading.at(fault.place)) for fault in reading.faults if fault.place]


DATA: list[tuple[str, Any]] = [
    ("a: 1\nb: 0.030\nc: 010\nd: no\n", {"a": "1", "b": "0.030", "c": "010", "d": "no"}),
    ("e: 1:30\nf: ~\ng: 1e3\n", {"e": "1:30", "f": "~", "g": "1e3"}),
    ("a:\nb: ''\nc: {d: , e}\n", {"a": "", "b": "", "c": {"d": "", "e": ""}}),
    ("a: [1, [2, {b: 3}]]\n", {"a": ["1", ["2", {"b": "3"}]]}),
    ("a:\n- b: 1\n  c: 2\n-\n- d\n", {"a": [{"b": "1", "c": "2"}, "", "d"]}),
    ("a: |\n  x\n  y\nb: >-\n  x\n  y\n", {"a": "x\ny\n", "b": "x y"}),
    ("1978: 2026-03-02\ntrue: 7/64\n", {"1978": "2026-03-02", "true": "7/64"}),
    ("a: 日本 🛥\n", {"a": "日本 🛥"}),
    ("---\na: 1\n...\n", {"a": "1"}),
    ("a: {}\nb: []\n", {"a": {}, "b": []}),
    ("name: Hollin & Drake\nlook_for: 2 * 3!  # why? <- there\n", {"name": "Hollin & Drake", "look_for": "2 * 3!"}),
]


@pytest.mark.parametrize(("text", "data"), DATA)
def test_every_scalar_is_text_as_written(text: str, data: Any) -> None:
    reading = read(text.encode())
    assert reading.data == data
    assert reading.faults == ()
    assert reading.text == text


def test_lines_are_counted_from_one() -> None:
    reading = read("a: 1\nb: ü".encode())
    assert [reading.line(number) for number in range(-1, 5)] == ["", "", "a: 1", "b: ü", "", ""]


def test_the_files_of_the_book_read_as_yaml_and_have_no_faults() -> None:
    for path in sorted(FROZEN.rglob("*.yaml")):
        reading = read(path.read_bytes())
        assert reading.faults == (), path
        assert reading.cut == ()
        assert reading.data == yaml.load(path.read_text(), Loader=yaml.BaseLoader), path


HALF_RIGHT: list[tuple[str, Any, list[tuple[str, str]], tuple[Any, ...]]] = [
    # text, what is left, what is told, what was cut
    (
        "a: 1\nb: x: y\nc: z: w\nd: 4\n",
        {"a": "1", "d": "4"},
        [("colon-in-words", "x: y"), ("colon-in-words", "z: w")],
        (("b",), ("c",)),
    ),
    (
        "figures:\n  gap:\n    - mm: 1\n      source: a: b\n    - mm: 2\n      source: c\n  speed:\n    - rpm: 5\n",
        {"figures": {"gap": [{"mm": "2", "source": "c"}], "speed": [{"rpm": "5"}]}},
        [("colon-in-words", "a: b")],
        (("figures", "gap"),),
    ),
    (
        "figures:\n  gap:\n    - mm: 1\n      source: a: b\n  speed:\n    - rpm: 5\n",
        {"figures": {"speed": [{"rpm": "5"}]}},
        [("colon-in-words", "a: b")],
        (("figures", "gap"),),
    ),
    (
        "figures:\n  gap:\n    - mm: [1, 2\n      page: 3\nname: x\n",
        {"name": "x"},
        [("bracket-not-paired", "[1, 2")],
        (("figures",),),
    ),
    (
        "a:\n  - b: 1\n    c:\n      - d: e: f\n      - g: 2\n  - h: 3\n",
        {"a": [{"b": "1", "c": [{"g": "2"}]}, {"h": "3"}]},
        [("colon-in-words", "e: f")],
        (("a", 0, "c"),),
    ),
    (
        'a: "open\nb: 1\nc: "closed no. 1"\nd: [x\n',
        {"b": "1", "c": "closed no. 1"},
        [("quote-not-closed", '"open'), ("bracket-not-paired", "[x"), ("quotes-not-needed", '"closed no. 1"')],
        (("a",), ("d",)),
    ),
    (
        "f: [\n  {y: 1,\n  {y: 2},\n]\ng: 1\n",
        {"f": [{"y": "2"}], "g": "1"},
        [("bracket-not-paired", "{y: 1,")],
        (("f",),),
    ),
    (
        "a: 1\na: 2\nb: {c: 1, c: 2}\n",
        {"a": "1", "b": {"c": "1"}},
        [("duplicate-key", "a"), ("duplicate-key", "c")],
        (),
    ),
    ("a: &x {b: 1}\nc: *x\n", {"a": {"b": "1"}, "c": {"b": "1"}}, [("anchor", "&x"), ("alias", "*x")], ()),
    (
        "a: &x [1, *x]\nb: *y\nc: 1\n",
        {"a": ["1", ""], "b": "", "c": "1"},
        [("anchor", "&x"), ("alias", "*x"), ("alias", "*y")],
        (),
    ),
    ("a:\n  <<: {b: 1, c: 2}\n  c: 3\n", {"a": {"b": "1", "c": "3"}}, [("merge-key", "<<")], ()),
    ("a: !!int 1\nb: !x [2]\n", {"a": "1", "b": ["2"]}, [("tag", "!!int"), ("tag", "!x")], ()),
    ("a: 1\n? [b]\n: c\n: d\n", {"a": "1"}, [("syntax", ": d"), ("key-not-text", "[b]")], ()),
    ("%YAML 1.1\n---\na: 1\n---\nb: 2\n", {"a": "1"}, [("directive", "%YAML 1.1"), ("second-document", "---")], ()),
    (
        "a:\n\tb: 1\n\tc:\n\t\td: 2\n",
        {"a": {"b": "1", "c": {"d": "2"}}},
        [("tab-indent", "\t"), ("tab-indent", "\t"), ("tab-indent", "\t\t")],
        (),
    ),
    ("a:\n  b: 1\n\tc: 2\nd: 3\n", {"a": {"b": "1"}, "d": "3"}, [("tab-indent", "\t")], (("a", "c"),)),
    ("a: x\u200b\nb:\u00a01\n", {"a": "x", "b": "1"}, [("control-character", "\u200b"), ("odd-space", "\u00a0")], ()),
    ('a: "x \\ud800"\nb: 1\n', {"a": "x \ufffd", "b": "1"}, [("lone-surrogate", "\\ud800")], ()),
    ("a: " + "[" * 99 + "]" * 99 + "\nb: 1\n", {"b": "1"}, [("nested-too-deep", "[")], (("a",),)),
    ("a: " + "x" * 10_001 + "\nb: 1\n", {"a": "x" * 10_000, "b": "1"}, [("scalar-too-long", "x" * 10_001)], ()),
    ("- a\n- b\n", ["a", "b"], [("not-a-mapping", "- a")], ()),
    ("words\n", "words", [("not-a-mapping", "words")], ()),
]


@pytest.mark.parametrize(("text", "data", "faults", "cut"), HALF_RIGHT)
def test_what_is_right_is_read_and_what_is_not_is_told_once(
    text: str, data: Any, faults: list[tuple[str, str]], cut: tuple[Any, ...]
) -> None:
    reading = read(text.encode())
    assert reading.data == data
    assert told(reading) == faults
    assert reading.cut == cut


NOTHING: list[tuple[bytes, str]] = [
    (b"", "empty-file"),
    (b"# only words\n", "empty-file"),
    (b"---\n", "empty-file"),
    (b"#" * (MOST_BYTES + 1), "file-too-large"),
    (b"".join(b"k%d: 1\n" % number for number in range(1_001)), "too-many-entries"),
    (b"a: b: c\n", "colon-in-words"),
    (b"[" * 99 + b"]" * 99, "nested-too-deep"),
]


@pytest.mark.parametrize(("raw", "rule"), NOTHING)
def test_where_nothing_could_be_read_there_is_no_tree(raw: bytes, rule: str) -> None:
    reading = read(raw)
    assert [fault.rule for fault in reading.faults] == [rule]
    assert reading.root is None
    assert reading.data == {}
    assert reading.place(("a", 0)) == WHOLE_FILE


BYTES: list[tuple[bytes, Any, list[tuple[str, str]]]] = [
    ("a: é\nb: ü\n".encode("latin-1"), {"a": "é", "b": "ü"}, [("not-utf8", "é")]),
    (b"# \x93x\x94\na: 1\n", {"a": "1"}, [("not-utf8", "“")]),
    (b"\xff\x81: 1\n", {"ÿ\ufffd": "1"}, [("not-utf8", "ÿ")]),
    (b"a: \xc3 b \xa9\n", {"a": "Ã b ©"}, [("not-utf8", "Ã")]),
    (b"\xef\xbb\xbfa: 1\r\nb: 2\r\n", {"a": "1", "b": "2"}, [("byte-order-mark", "a: 1"), ("line-endings", "a: 1")]),
    (b"a: 1\rb: 2\r", {"a": "1", "b": "2"}, [("line-endings", "a: 1")]),
    (b"a: 1\nb: |\n  x\r\n  y\n", {"a": "1", "b": "x\ny\n"}, [("line-endings", "x")]),
    ("a: é\nb: 1\n".encode("utf-16"), {"a": "é", "b": "1"}, [("wrong-encoding", "a: é")]),
    ("a: é\nb: 1\n".encode("utf-16-le"), {"a": "é", "b": "1"}, [("wrong-encoding", "a: é")]),
    ("a: é\r\n".encode("utf-32"), {"a": "é"}, [("wrong-encoding", "a: é"), ("line-endings", "a: é")]),
    (b"a: \xed\xa0\x80x\n", {"a": "\ufffd\ufffd\ufffdx"}, [("lone-surrogate", "\ufffd\ufffd\ufffd")]),
    (
        b"a: \xed\xa0\x80\xe9\n",
        {"a": "\ufffd\ufffd\ufffdé"},
        [("lone-surrogate", "\ufffd\ufffd\ufffd"), ("not-utf8", "é")],
    ),
    (b"a: x\0y\n", {"a": "x y"}, [("control-character", "\0")]),
]


@pytest.mark.parametrize(("raw", "data", "faults"), BYTES)
def test_bytes_are_read_as_what_they_most_likely_mean(raw: bytes, data: Any, faults: list[tuple[str, str]]) -> None:
    reading = read(raw)
    assert reading.data == data
    assert told(reading) == faults


def test_the_first_byte_that_is_no_utf8_is_told_with_its_offset() -> None:
    (fault,) = read(b"\xc3\xa9: \xe9\nb: \xe9\n").faults
    assert (fault.rule, fault.found, fault.expected) == ("not-utf8", "0xE9", ("é", "4", "2"))


STUMBLES: list[tuple[str, str, str, tuple[str, ...]]] = [
    # text, rule, marked text, what else the fault carries
    ("maker:skerrow\nname: x\n", "space-missing", "maker:skerrow", ("maker: skerrow",)),
    ("a: {b:[1, 2]}\n", "space-missing", "b:[", ("b: [",)),
    ("x:\n  -mm: 1\n   in: 2\n", "space-missing", "-mm: 1", ("- mm: 1",)),
    ("x:\n  - a: 1\n   b: 2\n", "bad-indentation", "b: 2", ("0", "4")),
    ("x:\n  a: 1\n b: 2\n", "bad-indentation", "b: 2", ("0", "2")),
    ("x: 1\n   y: 2\n", "bad-indentation", "y: 2", ("0",)),
    ("a: {b: 1\nc: 2\n", "bracket-not-paired", "{b: 1", ("{",)),
    ("a: [1, 2}\n", "bracket-not-paired", "[1, 2}", ("[",)),
    ("a: [1]]\n", "bracket-not-paired", "]", ("",)),
    ("a: [\n  1,\n  2\nb: 3\n", "bracket-not-paired", "[", ("[",)),
    ("a: {b: 1 c: 2}\n", "comma-missing", "1 c", ()),
    ('a: ["x" y]\n', "comma-missing", '"x" y', ()),
    ("a: 'it's'\n", "text-after-quote", "'it's'", ("'",)),
    ("a: 'x\n", "quote-not-closed", "'x", ("'",)),
    ("a: 'x  # y\nb: '1'\n", "quote-not-closed", "'x  # y", ("'",)),
    ("a: @x  # y\n", "sign-needs-quotes", "@x", ()),
    ("a: - b\n", "syntax", "- b", ("list", "block sequence entries are not allowed in this context")),
    ('a: "\\d"\n', "syntax", "\\d", ("escape", "found unknown escape character")),
]


@pytest.mark.parametrize(("text", "rule", "marked", "expected"), STUMBLES)
def test_what_the_parser_stumbles_over_is_told_as_the_slip_that_it_is(
    text: str, rule: str, marked: str, expected: tuple[str, ...]
) -> None:
    reading = read(f"first: 1\n{text}".encode())
    (fault,) = reading.faults
    assert (fault.rule, fault.expected) == (rule, expected)
    assert told(reading) == [(rule, marked)]
    assert reading.data["first"] == "1"


@given(st.binary(max_size=200) | st.text("ab:-?[]{},&*!|>'\"%@` \n\t#<\\", max_size=120).map(str.encode))
def test_nothing_raises(raw: bytes) -> None:
    reading = read(raw)
    assert reading.root is not None or reading.faults
    for part in Part:
        reading.place(("a", 0, "b"), part)


keys = st.text("abé🛥", min_size=1, max_size=3)
documents = st.recursive(
    st.text("aé🛥 :#-'\"", max_size=6),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(keys, inner, max_size=3),
    max_leaves=12,
)


@given(documents)
def test_what_is_dumped_is_read_back(data: Any) -> None:
    for style in (None, "'", '"'):
        raw = yaml.dump({"top": data}, default_style=style, allow_unicode=True).replace("!!", "").encode()
        if b"&" in raw:
            return  # the dumper repeats what is the same by a name
        reading = read(raw)
        assert [fault.rule for fault in reading.faults if fault.rule != "quotes-not-needed"] == []
        assert reading.data == {"top": data}


def test_without_the_c_part_of_pyyaml_it_says_what_to_type() -> None:
    code = "import sys; sys.modules['yaml._yaml'] = None\nimport kb.intake.yaml.reader"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=ROOT)
    assert done.returncode == 1
    assert re.search(r"ImportError: PyYAML is installed without its C part .*; run: pip install", done.stderr)
