"""The site of the book: a page for every family, links, strict HTML, and what may run."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NamedTuple
from xml.etree.ElementTree import Element

import html5lib
import pytest

from kb.cli.site import rule_texts
from kb.publish.site.build import SITE, build_site
from tests.specs.book import specs_book
from tests.support.folders import SPECS


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build_site(specs_book(), tmp_path_factory.mktemp("specs") / "site", rules=rule_texts()).place


class Parsed(NamedTuple):
    """A page's tree, and what a strict reader of HTML finds wrong with it."""

    tree: Element
    errors: list[str]


@pytest.fixture(scope="module")
def pages(site: Path) -> Mapping[Path, Parsed]:
    """Every page of the site."""
    found = {}
    for path in sorted(site.rglob("*.html")):
        parser = html5lib.HTMLParser(namespaceHTMLElements=False)
        tree = parser.parse(path.read_text(encoding="utf-8"))
        found[path] = Parsed(tree, [f"{place} {code} {more}" for place, code, more in parser.errors])
    return found


def attributes(tree: Element) -> Iterator[tuple[Element, str, str]]:
    for element in tree.iter():
        for name, value in element.attrib.items():
            yield element, str(name), value


def test_every_family_has_its_page(site: Path) -> None:
    families = {path.relative_to(SPECS).with_suffix("") for path in (SPECS / "families").rglob("*.yaml")}
    assert families == {path.parent.relative_to(site) for path in site.glob("families/*/*/index.html")}
    assert len(families) > 20


def test_every_page_is_strict_html(site: Path, pages: Mapping[Path, Parsed]) -> None:
    assert len(pages) > 190
    assert {path.relative_to(site): page.errors for path, page in pages.items() if page.errors} == {}


OUTSIDE: frozenset[str] = frozenset()
"""Addresses outside that a page may link to; none does."""
WITHIN = ("aria-labelledby", "aria-describedby", "aria-controls", "for")
"""What names other parts of the same page by their ids."""


def test_ids_are_given_once_and_every_link_leads_somewhere(site: Path, pages: Mapping[Path, Parsed]) -> None:
    trees = {path: page.tree for path, page in pages.items() if path.name != "404.html"}  # that has no one place
    ids = {path: [value for _, name, value in attributes(tree) if name == "id"] for path, tree in trees.items()}
    for path, tree in trees.items():
        assert len(ids[path]) == len(set(ids[path])), path
        for element, name, value in attributes(tree):
            where = f"{path.relative_to(site)}: {element.tag} {name} {value}"
            if name in WITHIN:
                assert set(value.split()) <= set(ids[path]), where
            assert name != "fill" or not value.startswith("url(") or value[5:-1] in ids[path], where
            if name not in ("href", "src", "srcset", "poster") or value.startswith("data:") or value in OUTSIDE:
                continue
            assert ":" not in value.partition("#")[0], f"{where} leads outside"
            target, _, anchor = value.partition("#")
            target = target.partition("?")[0]  # a bench aid is opened with a family
            place = (path.parent / target).resolve() if target else path
            place = place / "index.html" if place.is_dir() else place
            assert place.is_file(), where
            plain = anchor and "=" not in anchor and place.suffix == ".html"
            assert not plain or anchor in ids[place], where


def test_every_picture_is_told_in_words(pages: Mapping[Path, Parsed]) -> None:
    for path, page in pages.items():
        for element in page.tree.iter():
            if str(element.tag).rpartition("}")[2] == "img":
                assert element.get("alt") is not None, path
            elif str(element.tag).rpartition("}")[2] == "svg":
                told = element.get("aria-label") or element.get("aria-labelledby")
                assert element.get("aria-hidden") == "true" or (element.get("role") == "img" and told), path


def test_nothing_is_fetched_from_outside_and_no_script_stands_in_a_page(
    site: Path, pages: Mapping[Path, Parsed]
) -> None:
    for path, (tree, _) in pages.items():
        policy = [one.get("content", "") for one in tree.iter("meta") if one.get("http-equiv")]
        assert len(policy) == 1, path
        assert "unsafe-inline" not in policy[0], path
        for element, name, value in attributes(tree):
            assert not name.startswith("on"), path
            if name == "src" or (name == "href" and element.tag == "link" and element.get("rel") != "canonical"):
                assert "//" not in value, f"{path}: {value}"
        for script in tree.iter("script"):
            assert script.get("src"), path
            assert not (script.text or "").strip(), path
    for sheet in site.rglob("*.css"):
        assert "url(http" not in sheet.read_text(encoding="utf-8")


def test_the_sources_are_where_the_build_looks() -> None:
    assert (SITE / "mkdocs.yml").is_file()
