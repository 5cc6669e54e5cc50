"""True top dead centre by piston stop or dial gauge: what the pointer shows there, and how well that is known."""

from __future__ import annotations

from fractions import Fraction

from kb.bench.wording import ABOVE, NEAREST, READ, TAKEN, TYPED, CrankGiven, angle, degrees, exactly, in_millimetres
from kb.bench.worked_calculation import Worked
from kb.book.setting.pointer import require_near_centre
from kb.calc.centre_pairs import mean_dead_centre
from kb.calc.crank import piston_position
from kb.calc.dead_centre import STOP_JOB_BEYOND, offset_bias, shift_error
from kb.calc.offset import offset_piston_position
from kb.errors import QuantityError, ReadingsContradict
from kb.quantity import Quantity, Toward, plain, round_to_step
from kb.working import Input, Step

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

    from kb.calc.dead_centre import DeadCentre

    Pair = tuple[Fraction, Fraction]

NEAREST_CONTACT, FURTHEST_CONTACT = 10, 60
"""Degrees from top dead centre between which a contact is taken; common practice is 20 to 40."""

MOST_APART = 2
"""Degrees by which the middles of repeated pairs may differ before something must be loose."""

STANDARD = Fraction(1, 4)
"""The standard uncertainty of one reading, in degrees, where none is given: half a degree either way."""

_STEP = Fraction(1, 100)
_HALF = "half the angle between the contacts"

CAUTIONS = (
    "turn by hand only and touch the stop gently; before that ground a magneto's stop lead, or turn the key off and "
    "take the battery off",
    "take the stop out of the plug hole before anyone touches the starter",
    "turn backward only as far as the second contact: it folds the water pump's impeller",
)


def work_dead_centre(
    pairs: Sequence[Pair],
    uncertainty: Fraction | None = None,
    *,
    gauge: bool = False,
    crank: CrankGiven | None = None,
    gave: Quantity | None = None,
    offset: Quantity | None = None,
) -> Worked:
    """What the pointer shows at true top dead centre, from one or more pairs of contacts.

    Signed degrees, before top dead centre positive; ``uncertainty`` is the standard one of each reading. ``gauge`` says
    that the pairs are equal readings of a dial gauge. ``gave`` is how far the stop may have given way on one side,
    ``offset`` how far the wrist pin stands aside, to the before side; both need the ``crank``.

    Raises:
        DeadCentreTooFar: beyond 3 degrees the job stops.
        QuantityError: contacts of one pair are equal, on one side, too near top dead centre or too far from it; or how
            far the stop gave or the pin stands aside is given without the crank.
        GeometryImpossible: no such crank.
        ReadingsContradict: repeated pairs lie too far apart.
    """
    for first, second in pairs:
        _require_contacts(first, second, "gauge readings" if gauge else "contacts")
    given = STANDARD if uncertainty is None else uncertainty
    found, scatter = mean_dead_centre([(float(first), float(second)) for first, second in pairs], float(given))
    middles = [(first + second) / 2 for first, second in pairs]
    if max(middles) - min(middles) > MOST_APART:
        raise ReadingsContradict(
            f"the pairs give {angle(min(middles))} and {angle(max(middles))} for top dead centre: something moves; "
            "tighten stop and pointer, and read again"
        )
    contact = min(abs(first - second) / 2 for first, second in pairs)
    aside = _bias(float(contact), _crank(crank), offset) if offset else 0.0
    exact = exactly(found.reading - aside)
    require_near_centre(exact)
    reading = round_to_step(exact, _STEP, Toward.DOWN)
    words = angle(reading)
    answer = [
        f"the pointer shows {words} at true top dead centre",
        f"uncertainty {degrees(found.expanded)} either way (k = 2, about 95 %)",
        f"for the other commands: --dead-centre-reads '{words}'",
    ]
    values = {
        "dead_centre_reading_deg": found.reading - aside,
        "dead_centre_reads": words,
        "standard_uncertainty_deg": found.standard,
        "expanded_uncertainty_deg": found.expanded,
        "pairs": len(pairs),
    }
    middle = angle(round_to_step(exactly(found.reading), _STEP, Toward.DOWN))
    steps = [_reading_step(pairs, found, middle, gauge), _uncertainty_step(len(pairs), uncertainty, found, scatter)]
    if len(pairs) > 1:
        values["scatter_deg"] = scatter
    if offset is not None:
        answer.append(
            f"the pin's offset of {offset} moves the middle of the contacts by {degrees(aside, 3)}: subtracted"
        )
        values["moved_by_offset_deg"] = aside
        steps.append(_offset_step(offset, contact, _crank(crank), middle, aside, words))
    if gave is not None:
        crank = _crank(crank)
        moved = shift_error(in_millimetres(gave), float(contact), crank.throw, crank.rod_length)
        answer.append(f"if the stop gave way by {gave} on one side, this would be {degrees(moved)} off")
        values["moved_by_give_deg"] = moved
        steps.append(_give_step(gave, contact, crank, moved))
    return Worked(
        "true top dead centre by " + ("dial gauge" if gauge else "piston stop"),
        tuple(answer),
        values,
        tuple(steps),
        tuple(_remarks(pairs, reading, found, uncertainty)),
        CAUTIONS,
    )


def _crank(crank: CrankGiven | None) -> CrankGiven:
    if crank is None:
        raise QuantityError(
            "how much a pin set aside or a stop that gave way matters depends on the crank; write --stroke and --rod"
        )
    return crank


def _bias(contact: float, crank: CrankGiven, offset: Quantity) -> float:
    """How far the middle of contacts lies from true top dead centre, in degrees, before positive: from the piston's
    position without the offset, then refined once with it."""
    aside, throw, rod = in_millimetres(offset), crank.throw, crank.rod_length
    about = offset_bias(aside, piston_position(contact, throw, rod), throw, rod)
    return offset_bias(aside, offset_piston_position(contact + about, throw, rod, aside), throw, rod)


def _offset_step(offset: Quantity, contact: Fraction, crank: CrankGiven, middle: str, aside: float, words: str) -> Step:
    inputs = (
        Input("middle of the contacts", middle, ABOVE),
        Input("pin offset", str(offset), TYPED),
        Input("contact from top dead centre", degrees(contact), _HALF),
        *crank.inputs,
        Input("the pin moves the middle by", degrees(aside, 3), "to the before side, where the pin is"),
    )
    formula = "middle - (arc tangent of offset over pin's height at the contact - arc sine of offset over rod + throw)"
    return Step("without the pin's offset", formula, inputs, words, "rounded toward after, which is late")


def _require_contacts(first: Fraction, second: Fraction, what: str) -> None:
    both = f"{angle(first)} and {angle(second)}"
    if first == second:
        raise QuantityError(f"both {what} read {angle(first)}: turn the other way for the second one, and read again")
    if first * second > 0:
        raise QuantityError(
            f"{both} are on one side: one of the {what} is before top dead centre and the other after; if the pointer "
            "really shows both on one side, look at the flywheel key and whether this is the right flywheel"
        )
    half = abs(first - second) / 2
    if half < NEAREST_CONTACT:
        raise QuantityError(
            f"{both} are only {degrees(half)} from top dead centre, where the piston hardly moves; screw the stop "
            "further in, until it touches 20 to 40 degrees each side"
        )
    if half > FURTHEST_CONTACT:
        raise QuantityError(
            f"{both} are {degrees(half)} from top dead centre: too far; screw the stop out, until it touches 20 to 40 "
            "degrees each side, and look whether both readings are right"
        )


def _reading_step(pairs: Sequence[Pair], found: DeadCentre, words: str, gauge: bool) -> Step:
    what = "gauge reading" if gauge else "contact"
    inputs = []
    for number, (first, second) in enumerate(pairs, 1):
        pair = f", pair {number}" if len(pairs) > 1 else ""
        inputs += [Input(f"first {what}{pair}", angle(first), READ), Input(f"second {what}{pair}", angle(second), READ)]
    formula = "(first + second) / 2, before counted up and after counted down"
    exact = exactly(found.reading) % _STEP == 0
    return Step(
        "dead-centre reading",
        f"mean of {formula}" if len(pairs) > 1 else formula,
        tuple(inputs),
        words,
        "" if exact else "rounded toward after, which is late",
    )


def _uncertainty_step(count: int, uncertainty: Fraction | None, found: DeadCentre, scatter: float) -> Step:
    source = TAKEN if uncertainty is None else TYPED
    given = STANDARD if uncertainty is None else uncertainty
    inputs = [Input("standard uncertainty of a reading", degrees(given), source)]
    formula = "2 x (reading's uncertainty / square root of 2)"
    if count > 1:
        inputs.append(Input(f"scatter of the {count} pairs", degrees(scatter), READ))
        formula = "2 x root of the sum of squares of (scatter / root of pairs) and (reading's uncertainty / root of 2)"
    return Step("expanded uncertainty, k = 2", formula, tuple(inputs), degrees(found.expanded), NEAREST)


def _give_step(gave: Quantity, contact: Fraction, crank: CrankGiven, moved: float) -> Step:
    inputs = (
        Input("give", str(gave), TYPED),
        Input("contact from top dead centre", degrees(contact), _HALF),
        *crank.inputs,
    )
    formula = "half of the give over the piston's travel for a degree there"
    return Step("a stop that gives way", formula, inputs, degrees(moved), NEAREST)


def _remarks(
    pairs: Sequence[Pair], reading: Fraction, found: DeadCentre, uncertainty: Fraction | None
) -> Sequence[str]:
    remarks = ["it belongs to this engine and this job: find it again next time"]
    if reading:
        side = "later" if reading > 0 else "earlier"
        remarks.append(
            f"a reading is truly {degrees(abs(reading))} {side} than the pointer shows; if you move the pointer "
            "instead, hold the rim half-way between the contacts, bring the pointer to 0 there, and read both contacts "
            "again: only what they give counts"
        )
    if abs(reading) + Fraction(found.expanded) > STOP_JOB_BEYOND:
        remarks.append(
            f"with its uncertainty it may be beyond {STOP_JOB_BEYOND:g} degrees: take more pairs before you go on"
        )
    halves = [abs(first - second) / 2 for first, second in pairs]
    if min(halves) < 20 or max(halves) > 40:
        remarks.append("contacts 20 to 40 degrees each side are better: screw the stop in or out (common practice)")
    if uncertainty is None:
        remarks.append(
            f"each reading is assumed good to {plain(STANDARD)} degree (standard uncertainty); give your own with "
            "--uncertain"
        )
    if 1 < len(pairs) < 4:
        remarks.append("two or three pairs say little about their scatter: four say more")
    return remarks
