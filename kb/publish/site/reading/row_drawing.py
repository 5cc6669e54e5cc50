"""The first row of a family's page, drawn with a number at each of its parts, for the page that explains them.

It is drawn from what that page shows, so that the two never differ. The text around it explains the numbers.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kb.errors import FigureUnknown
from kb.publish.drawings.lettering import LINE_HEIGHT, width_of
from kb.publish.drawings.picture import Picture

if TYPE_CHECKING:
    from kb.publish.site.family.view_types import FamilyView, RowView, StripView

WIDTH, LEFT, RIGHT = 390.0, 38.0, 378.0
TYPE, HEADING, BIG, SIDE = 13.0, 14.0, 46.0, 22.0
RED, GROUND = "hot-fill", "ground"
"""Classes that the reading pages' style colours: alarm, and paper."""


def row_drawing(view: FamilyView, prefix: str) -> str:
    """The row of the maximum on a family's page, as SVG.

    Raises:
        FigureUnknown: the family has no maximum that has one number.
    """
    row = next((row for row in view["top"] if row["is_maximum"]), None)
    if row is None or row["words"] or len(row["digits"]) != 1:
        raise FigureUnknown(f"{view['id']} has no maximum to draw")
    picture = Picture(prefix, WIDTH)
    top = _head(picture, view)
    top = _row(picture, row, top)
    words = "; ".join(f"{number}: {part}" for number, part in enumerate(_parts(view, row), 1) if part)
    title = f"The first row of the page of the {view['maker']} {view['name']}, with numbers at its parts"
    return picture.finish(top + 6, title, f"{title}. {words}.")


def _parts(view: FamilyView, row: RowView) -> list[str]:
    """The part at each number, in words."""
    (digits,) = row["digits"]
    return [
        view["state"],
        f"{row['heading']} {row['when']}",
        f"{digits['number']} {digits['unit']}",
        row["sure"],
        " · ".join(row["how"]),
        *(f"a strip with a block and dots: {one['ran_at']}" for one in row["dots"][:1]),
        *([] if row["dots"] else [""]),
        " · ".join(one["title"] for one in row["warned"]) or row["hazard"],
        "a plus sign that opens the sources",
    ]


def _number(picture: Picture, number: int, middle: float, left: float = 18) -> None:
    picture.circle((left, middle), 10.5, fill="currentColor")
    picture.text((left, middle + 4.8), str(number), 13.5, "middle", bold=True, kind=GROUND)


def _head(picture: Picture, view: FamilyView) -> float:
    """Draw the family's name, and in the black box how its maximum is set."""
    picture.text((LEFT, 22), f"{view['maker']} {view['name']}", 18, bold=True)
    wide = width_of(view["state"], HEADING, bold=True) + 14
    picture.rectangle((LEFT, 34), wide, 23, fill="currentColor")
    picture.text((LEFT + 7, 50), view["state"], HEADING, bold=True, kind=GROUND)
    _number(picture, 1, 45)
    picture.line((LEFT, 68), (RIGHT, 68), 4)
    return 68


def _row(picture: Picture, row: RowView, top: float) -> float:
    top += 19
    heading = f"{row['heading']} {row['when']}"
    below = picture.paragraph((LEFT, top), heading, HEADING, RIGHT - LEFT - 48, bold=True)
    _number(picture, 2, top - 4)
    picture.text((RIGHT - 6, top + 6), "+", 24, "end", bold=True)
    _number(picture, 8, top - 1, RIGHT - 34)
    top = below + 29
    (digits,) = row["digits"]
    picture.text((LEFT, top), digits["number"], BIG, bold=True)
    picture.text((LEFT + 0.87 * width_of(digits["number"], BIG, bold=True) + 4, top), digits["unit"], SIDE, bold=True)
    _number(picture, 3, top - 16)
    sure = width_of(row["sure"], TYPE)
    picture.text((RIGHT, top - 4), row["sure"], TYPE, "end")
    _number(picture, 4, top - 24 if sure > 150 else top - 8, RIGHT - min(sure, 150) - 16)
    top += 22
    below = picture.paragraph((LEFT, top), " · ".join(row["how"]), TYPE, RIGHT - LEFT)
    _number(picture, 5, top - 4)
    top = below
    for strip in row["dots"][:1]:
        top = _strip(picture, strip, top + 4)
    words = " · ".join(one["title"] for one in row["warned"]) or row["hazard"]
    below = _red(picture, words, top + 2)
    _number(picture, 7, top - 2)
    picture.line((LEFT, below - 6), (RIGHT, below - 6))
    return below - 6


def _strip(picture: Picture, strip: StripView, top: float) -> float:
    """Draw the block of the printed window, and dots for what engines ran at."""
    wide = 120 / 300
    picture.line((LEFT, top), (LEFT + 120, top))
    if strip["wide"]:
        picture.rectangle((LEFT + strip["from"] * wide, top - 6), max(3.0, strip["wide"] * wide), 12, kind="lit")
        for point in strip["points"]:
            picture.circle((LEFT + point["x"] * wide, top), 3.5, fill="currentColor")
    picture.text((LEFT + 132, top + 4.5), f"Ran at {strip['ran_at']}", TYPE)
    _number(picture, 6, top)
    return top + 27


def _red(picture: Picture, words: str, top: float) -> float:
    """Draw a bold paragraph in the colour of alarm; returns the baseline of the line that would come next."""
    line = ""
    for word in words.split():
        if line and width_of(f"{line} {word}", TYPE, bold=True) > RIGHT - LEFT:
            picture.text((LEFT, top), line, TYPE, bold=True, kind=RED)
            line, top = "", top + TYPE * LINE_HEIGHT
        line = f"{line} {word}".strip()
    picture.text((LEFT, top), line, TYPE, bold=True, kind=RED)
    return top + TYPE * LINE_HEIGHT
