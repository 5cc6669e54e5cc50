"""A book whose every text is an attack makes pages that run nothing."""

from __future__ import annotations

from pathlib import Path

import html5lib


def test_nothing_of_it_becomes_markup(hostile_place: Path) -> None:
    seen = 0
    for path in hostile_place.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        tree = html5lib.parse(text, namespaceHTMLElements=False)
        seen += "alert(1)" in text
        for element in tree.iter():
            if element.tag == "script":
                assert str(element.get("src")).endswith(".js"), path
                assert not (element.text or "").strip(), path
            for name, value in element.attrib.items():
                assert not str(name).startswith("on"), f"{path}: {name}"
                if name in ("href", "src", "action", "formaction", "xlink:href"):
                    assert "javascript:" not in value.lower(), f"{path}: {value}"
            assert (element.text or "").strip() != "49"
    assert seen > 20


def test_drawings_run_nothing_either(hostile_place: Path) -> None:
    for path in hostile_place.rglob("*.svg"):
        tree = html5lib.parse(path.read_text(encoding="utf-8"), namespaceHTMLElements=False)
        for element in tree.iter():
            assert not str(element.tag).endswith("script"), path
            assert not any(str(name).startswith("on") for name in element.attrib), path
