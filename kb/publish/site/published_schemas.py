"""The schemas of the files that the site publishes for other programs, published beside them."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

_SERVED = ("page.json", "shared.json")


def schema_files(sources: Path) -> Iterator[tuple[str, str]]:
    """Each schema by its path in the site; in the wheel they are with the site's sources, in a clone beside them."""
    shipped = sources / "schema"
    place = shipped if shipped.is_dir() else sources.parent / "schema" / "published"
    for name in _SERVED:
        yield f"schema/{name}", (place / name).read_text(encoding="utf-8")
