"""Quotes are called idle only where they are so beyond doubt."""

from __future__ import annotations

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from kb.intake.yaml.reader import read

plain = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cf", "Cs", "Zl", "Zp"]), max_size=12)


@given(plain)
def test_quotes_are_idle_only_where_every_yaml_reads_the_same_without(text: str) -> None:
    """Read without its quotes as a value, in a list and as a key, by YAML 1.1 with its guesses."""
    quoted = text.replace("'", "''")
    reading = read(f"a: '{quoted}'\n".encode())
    for fault in reading.faults:
        if fault.rule == "quotes-not-needed":
            bare = fault.expected[0]
            assert yaml.safe_load(f"a: {bare}\nb: [{bare}, 1]\n{bare}: x\n") == {"a": text, "b": [text, 1], text: "x"}


NEEDED = [
    *("yes", "No", "ON", "off", "y", "N", "true", "NULL", "~"),
    *("1", "0.030", "010", "1e3", "1_000", "0x1F", "0o17", "1:30", "12:30:45", "2026-03-02"),
    *(".5", ".inf", ".NaN", "nan"),
    *("-", "-x", "?", ":x", "x:", "a:b", "#x", "&x", "*x", "!x", "%x", "@x", "`x", "|x", ">x", "=x", "<<"),
    *("[x", "{x", "]x", "}x", ",x", "a, b", "a: b", "a #b", " a", "a ", "a\tb", ""),
]


@pytest.mark.parametrize("text", NEEDED)
def test_quotes_that_may_be_needed_are_left_alone(text: str) -> None:
    assert read(f'a: "{text}"\nb: 1\n'.encode()).faults == ()
    assert read(f"a: '{text}'\nb: ['{text}']\n".encode()).faults == ()


@pytest.mark.parametrize("key", ["id", "source", "page", "from", "to", "serial", "code"])
def test_ids_serials_pages_and_codes_may_stand_in_quotes(key: str) -> None:
    assert read(f'a: {{{key}: "words"}}\n{key}: "words"\nb:\n  - {key}: ["words"]\n'.encode()).faults == ()
