"""What the book holds: families by figures with their standing, as a picture and as a table, and what is wanted."""

from __future__ import annotations

from collections import Counter

from kb.book.book import Book
from kb.publish.site.generated import plain

STANDINGS = ("agreed", "single", "derived", "disputed", "not stated", "does not apply", "unknown")
_PROBLEMS = {"FigureNotStated": "not stated", "FigureDoesNotApply": "does not apply", "FigureUnknown": "unknown"}
_SURE = {name: place for place, name in enumerate(STANDINGS)}


def coverage(book: Book) -> dict[str, Counter[str]]:
    """For each kind of figure, in the order of the job, how many families have it with which standing.

    Of several states or kinds of engine the least sure counts.
    """
    kinds = sorted(book.figures.values(), key=lambda kind: (kind.job_order, kind.id))
    found: dict[str, Counter[str]] = {kind.id: Counter() for kind in kinds}
    for family in book.family_ids():
        for kind in kinds:
            settled = book.settled(family, kind.id)
            said = {standing for held in settled[1]["kinds"] for standing in _standings(held)} if settled else set()
            found[kind.id][max(said, key=_SURE.__getitem__, default="unknown")] += 1
    return found


def _standings(kind: dict[str, object]) -> set[str]:
    asked = kind["asked"]
    assert isinstance(asked, dict)
    entries = [entry for outcome in asked.values() for entry in outcome.get("entries", (outcome,))]
    said = {entry["standing"] for entry in entries if "standing" in entry}
    return said or {_PROBLEMS.get(entry["error"], "disputed") for entry in entries}


def coverage_page(book: Book) -> str:
    """The page as Markdown; the picture is an SVG of bars with their numbers, and the table says the same."""
    found, whole = coverage(book), max(1, len(book.family_ids()))
    wanted = Counter({figure: counts["unknown"] + counts["single"] for figure, counts in found.items()
                      if book.figures[figure].hazard == "A"})  # fmt: skip
    lines = [
        "# What the book holds\n",
        f"{len(book.family_ids())} families. Of each figure: in how many it stands, and how sure.\n",
        _picture(book, found, whole),
        "\n## As a table\n",
        "| figure | " + " | ".join(STANDINGS) + " |",
        "| --- |" + " ---: |" * len(STANDINGS),
        *(f"| {plain(book.figures[figure].label)} | " + " | ".join(str(counts[one]) for one in STANDINGS) + " |"
          for figure, counts in found.items()),
        "\n## Most wanted\n",
        "Figures that hurt an engine when wrong, and rest on one source or on none:\n",
        *(f"- {plain(book.figures[figure].label)}: {count} families"
          for figure, count in wanted.most_common(6) if count),
        "\nWhoever has the manual can [add the page](read/contribute.md).",
    ]  # fmt: skip
    return "\n".join(lines) + "\n"


def _picture(book: Book, found: dict[str, Counter[str]], whole: int) -> str:
    rows, height = [], 26
    for place, (figure, counts) in enumerate(found.items()):
        left, top = 0.0, place * height
        label = plain(book.figures[figure].label)
        rows.append(f'<text x="0" y="{top + 11}">{label}</text>')
        for number, standing in enumerate(STANDINGS):
            wide = 400 * counts[standing] / whole
            if wide:
                rows.append(f'<rect class="c{number}" x="{left:.1f}" y="{top + 14}" width="{wide:.1f}" height="9"/>')
            left += wide
    key = "".join(f'<span class="c{number}">{standing}</span> ' for number, standing in enumerate(STANDINGS))
    return (
        f'<p class="coverage-key">{key}</p>\n\n'
        f'<svg class="coverage" viewBox="0 0 400 {len(found) * height}" role="img" '
        f'aria-label="The table below as bars">{"".join(rows)}</svg>\n'
    )
