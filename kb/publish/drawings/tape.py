"""A degree tape at true scale as sheets of SVG in millimetres, to be printed, cut out and wrapped around the rim."""

from __future__ import annotations

from fractions import Fraction

from kb.book.model.answer import INVENTED_WORDS
from kb.publish.drawings.picture import Picture
from kb.publish.drawings.strip import HEIGHT, draw_strip
from kb.publish.drawings.tape_plan import MARGIN, PAPERS, Strip, TapePlan
from kb.quantity import plain, plain_angle
from kb.vocabulary.engine import Rotation

CHECK_BAR = 100.0
"""In millimetres, as everything here."""
_CAPTION, _GAP = 6.0, 4.0
_TYPE, _SMALL = 3.2, 2.8


def tape_sheets(plan: TapePlan, prefix: str = "tape") -> list[str]:
    """The tape as SVG, one for each sheet of paper; ids begin with the prefix and the sheet's number."""
    return [sheet for sheet, _ in draw_tape(plan, prefix)]


def draw_tape(plan: TapePlan, prefix: str = "tape") -> list[tuple[str, Picture]]:
    """The sheets as SVG, each with the picture that has the boxes of its words."""
    drawn: list[tuple[str, Picture]] = []
    waiting = list(enumerate(plan.strips, 1))
    while waiting:
        drawn.append(_draw_sheet(plan, f"{prefix}-{len(drawn) + 1}", waiting))
    return drawn


def title_of(plan: TapePlan) -> str:
    """The tape's title."""
    across = f"a rim {plain(plan.diameter, 2)} mm across"
    return f"Degree tape for {plan.name}, {across}" if plan.name else f"Degree tape for {across}"


def _draw_sheet(plan: TapePlan, prefix: str, waiting: list[tuple[int, Strip]]) -> tuple[str, Picture]:
    """One sheet, with as many of the waiting strips as fit; they are taken from the list."""
    width, height = map(float, PAPERS[plan.paper])
    left, wide = float(MARGIN), width - 2 * float(MARGIN)
    picture = Picture(prefix, width, unit="mm")
    top = picture.paragraph((left, left + 4), title_of(plan), 5, wide, bold=True)
    for words in instructions(plan):
        top = picture.paragraph((left, top), words, _TYPE, wide)
    top = _draw_check_bar(picture, left, top + 2)
    while waiting and top + _CAPTION + HEIGHT <= height - float(MARGIN):
        number, _ = waiting.pop(0)
        picture.text((left, top + _CAPTION - 1.5), _caption(plan, number), _SMALL)
        draw_strip(picture, plan, number, top + _CAPTION)
        top += _CAPTION + HEIGHT + _GAP
    return picture.finish(height, title_of(plan), " ".join(instructions(plan))), picture


def instructions(plan: TapePlan) -> list[str]:
    """The text above the tape: how to print and check it, what it is made for, how it goes on the flywheel."""
    paper = {"a4": "A4", "letter": "Letter"}[plan.paper]
    sentences = [
        f'Print on {paper} paper at 100 % ("actual size", never "fit to page"). MEASURE THE BAR BELOW BEFORE USE: '
        "if it is not 100 mm long, the tape is wrong; do not use it.",
        f"From {end_in_words(plan, plan.early)} to {end_in_words(plan, plan.late)}: "
        f"{plan.along(plan.early - plan.late):.1f} mm long. Paper {plain(plan.thickness)} mm thick is allowed for; "
        f"1° is {plan.along(1):.3f} mm. Measure the rim: a millimetre across is {_error(plan):.2f}° at 30°.",
    ]
    if plan.clockwise is None:
        sentences.append(
            "Which way the flywheel turns is not known, so the sides have no names. Seen from above: if it turns "
            f"{Rotation.CLOCKWISE}, before top dead centre is LEFT of TDC; if {Rotation.ANTICLOCKWISE}, RIGHT."
        )
    else:
        turning, side = (Rotation.CLOCKWISE, "left") if plan.clockwise else (Rotation.ANTICLOCKWISE, "right")
        sentences.append(
            f"For a flywheel that turns {turning} seen from above: before top dead centre is {side} of TDC."
        )
    sentences.append(
        "Wrap it around the flywheel, figures upright as read from outside, TDC at the fixed pointer when the piston "
        "of cylinder one is at true top dead centre. Take it off before the engine runs."
    )
    if plan.note:
        sentences.append(plan.note)
    return [*sentences, f"{INVENTED_WORDS}; measure your own rim."] if plan.invented else sentences


def end_in_words(plan: TapePlan, degrees: int) -> str:
    """An end of the tape in words; without a side where the sides have no names."""
    return f"{abs(degrees)}°" if plan.clockwise is None else str(plain_angle(Fraction(degrees)))


def _error(plan: TapePlan) -> float:
    """The error in degrees of the tape at 30 degrees on a rim a millimetre larger."""
    return 30 - 30 * float(plan.diameter) / (float(plan.diameter) + 1)


def _draw_check_bar(picture: Picture, left: float, top: float) -> float:
    picture.line((left, top + 3), (left + CHECK_BAR, top + 3), 0.3, kind="check-bar")
    for x in (left, left + CHECK_BAR):
        picture.line((x, top), (x, top + 6), 0.3, kind="check-end")
    words = "Check bar: exactly 100 mm from line to line (just under 3 15/16 in)"
    picture.text((left + CHECK_BAR + 4, top + 4), words, _TYPE, bold=True)
    return top + 8


def _caption(plan: TapePlan, number: int) -> str:
    count = len(plan.strips)
    if count == 1 and not plan.full_turn:
        return "Cut along the outline."
    follows = number + 1 if number < count else 1 if plan.full_turn else 0
    join = f"; glue the start of strip {follows} on the tab, its edge on the line marked JOIN" if follows else ""
    return f"Strip {number} of {count}. Cut along the outline{join}."
