"""``python -m tests.pictures``: the README's pictures of the demonstration book, as a phone and a printer show them."""

from __future__ import annotations

import tempfile
from pathlib import Path

from kb.cli import main
from tests.in_browser import browser

PICTURES = Path(__file__).parent.parent / "site" / "pictures"
STAND = ["--serial", "301455", "--margin", "1", "--state", "cranking", "--dead-centre-reads", "2 before"]
MADE = {
    # picture: what makes the page, how wide it is shown, and how much of it
    "rim": (["draw", "skerrow/ketch-47", "rim", *STAND], 390, 680),
    "running": (["draw", "pellwater/libeccio-87", "running"], 390, 860),
    "sheet": (["sheet", "skerrow/ketch-47", *STAND], 820, 1130),
}


def make() -> None:
    """Write every picture anew."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, browser() as shown:
        for name, (command, width, height) in MADE.items():
            made = Path(folder) / f"{name}.{'svg' if command[0] == 'draw' else 'html'}"
            if main([*command, "--out", str(made)]):
                raise SystemExit(f"{' '.join(command)} made nothing")
            if command[0] == "draw":
                drawing = made.read_text(encoding="utf-8")
                made = made.with_suffix(".html")
                made.write_text(f"<!doctype html><meta charset=utf-8><body style='margin:8px'>{drawing}", "utf-8")
            page = shown.new_page(viewport={"width": width, "height": height}, device_scale_factor=1.5)
            page.goto(made.as_uri())
            page.screenshot(path=PICTURES / f"{name}.png")
            page.close()


if __name__ == "__main__":
    make()
