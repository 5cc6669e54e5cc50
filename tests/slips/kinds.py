"""The kinds of slip: what each does to a scalar's text, given a source of chance."""

from __future__ import annotations

from collections.abc import Callable
from random import Random

TextSlip = Callable[[str, Random], str | None]
"""The text after the slip, or nothing where the slip is not possible."""


def digit_changed(text: str, chance: Random) -> str | None:
    """One digit becomes another."""
    places = [index for index, letter in enumerate(text) if letter.isdigit()]
    if not places:
        return None
    place = chance.choice(places)
    others = [digit for digit in "0123456789" if digit != text[place]]
    return text[:place] + chance.choice(others) + text[place + 1 :]


def digits_swapped(text: str, chance: Random) -> str | None:
    """Two neighbouring digits change places."""
    places = [
        index
        for index in range(len(text) - 1)
        if text[index].isdigit() and text[index + 1].isdigit() and text[index] != text[index + 1]
    ]
    if not places:
        return None
    place = chance.choice(places)
    return text[:place] + text[place + 1] + text[place] + text[place + 2 :]


def decimal_slipped(text: str, chance: Random) -> str | None:
    """The decimal point moves by one place, either way."""
    whole, point, decimals = text.partition(".")
    if not whole.isdigit() or (point and not decimals.isdigit()):
        return None
    moved = [f"{whole[:-1] or '0'}.{whole[-1]}{decimals}"]
    if decimals:
        shifted = f"{whole}{decimals[0]}".lstrip("0") or "0"
        moved.append(f"{shifted}.{decimals[1:]}" if decimals[1:] else shifted)
    else:
        moved.append(f"{whole}0")
    return chance.choice([one for one in moved if one != text])


def inch_for_millimetre(text: str, chance: Random) -> str | None:
    """The unit key of one becomes that of the other."""
    return {"in": "mm", "mm": "in"}.get(text)


def side_flipped(text: str, chance: Random) -> str | None:
    """Before top dead centre for after, or after for before."""
    return {"btdc": "atdc", "atdc": "btdc"}.get(text)


def correction_side_flipped(text: str, chance: Random) -> str | None:
    """Earlier for later, or later for earlier."""
    return {"cranking_earlier": "cranking_later", "cranking_later": "cranking_earlier"}.get(text)


def cranking_for_running(text: str, chance: Random) -> str | None:
    """One state for the other."""
    return {"cranking": "running", "running": "cranking"}.get(text)


NUMBER_SLIPS: dict[str, TextSlip] = {
    "digit changed": digit_changed,
    "digits swapped": digits_swapped,
    "decimal slipped": decimal_slipped,
}
KEY_SLIPS: dict[str, TextSlip] = {
    "inch for millimetre": inch_for_millimetre,
    "side flipped": side_flipped,
    "correction's side": correction_side_flipped,
}


def digits_mistyped(text: str, chance: Random) -> str | None:
    """One digit becomes another, or two change places."""
    return chance.choice([digit_changed, digits_swapped])(text, chance)


RANGE_SLIPS: dict[str, TextSlip] = {"end of a range": digits_mistyped}
SPEED_SLIPS: dict[str, TextSlip] = {"speed of a maximum": digits_mistyped}
STATE_SLIPS: dict[str, TextSlip] = {"cranking for running": cranking_for_running}
