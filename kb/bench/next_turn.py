"""The next turn of an adjusting screw from the readings so far: how far, which way, and from which side."""

from __future__ import annotations

from fractions import Fraction
from itertools import takewhile

from kb.bench.adjusting_screw import AdjustingScrew, ScrewTarget
from kb.bench.wording import READ, angle, degrees, exactly
from kb.bench.worked_calculation import Worked
from kb.calc.readings import fit_line
from kb.calc.screw import next_turn
from kb.errors import QuantityError, ReadingsContradict
from kb.quantity import Toward, plain, round_to_step
from kb.vocabulary.work import FALSE_LATE_IN_SHORT
from kb.working import Input, Step

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

_EIGHTH = Fraction(1, 8)
_FINEST = Fraction(1, 64)
_MOST_MOVE = 0.5  # degrees that the fraction of a turn to round to may move the reading
_FAR = Fraction(3)  # turns after which it is read again, and twice what the readings cover
_PAST = Fraction(1, 2)
_READABLE = Fraction(1, 2)  # degrees that an eye can read
_AGREE = 1  # degrees by which readings at one place may differ
_FORMULA = "(target - the line's reading at no turns) / slope - the screw's present position"
_FORMULA_LATE = "(target - the earliest reading here) / slope; half of it toward earlier, until one degree is left"
EARLIER = (
    f"before it is made earlier, see that it is not a false late reading: {FALSE_LATE_IN_SHORT}; and read it twice"
)


def work_next_turn(
    settings: Sequence[tuple[Fraction, Fraction]], target: ScrewTarget, adjuster: AdjustingScrew | None = None
) -> Worked:
    """How far to turn the screw next, and which way.

    ``settings`` are pairs of the screw's setting (turns in, counted from any start) and the reading there in signed
    degrees, in the order taken. With one setting the answer is a first trial turn. Of a maximum the earliest reading of
    the present setting counts; one that is on target is left, whatever the line says. At once no more is turned than
    twice what the readings cover, and three turns: a screw with play hardly moves at first, and its slope is a guess.

    Raises:
        ReadingsContradict: the readings go both ways, hardly move, or move against what the screw is known to do; or
            those at one place differ by more than a degree.
        QuantityError: there are no readings.
    """
    adjuster = adjuster or AdjustingScrew()
    if not settings:
        raise QuantityError("no readings; write turns and reading, such as: 0 24 before 1/2 25 before")
    now = _reads_now(settings, target)
    if len({turns for turns, _ in settings}) == 1:
        return _first_trial(settings, now, target, adjuster)
    points = [(float(turns), float(reading)) for turns, reading in settings]
    found = next_turn(points, float(target.shown), adjuster.sign)
    line = fit_line(points)
    step = _step_for(found.slope)
    whole = float(target.shown - now) / found.slope if target.late else found.turns
    turns = Fraction(0) if _is_reached(now, target) else _rounded(exactly(whole), step, target.late, found.slope)
    earlier = bool(turns) and (turns > 0) == (found.slope > 0)
    halfway = target.late and earlier and target.shown - now > _AGREE
    if halfway:
        turns = round_to_step(turns / 2, step, Toward.DOWN if turns > 0 else Toward.UP)
    reach = _reach(settings, step)
    is_far = abs(turns) > reach
    turns = max(-reach, min(reach, turns))
    turns_back = found.from_one_side == ((turns > 0) == (found.turns > 0))
    # a maximum is never passed early
    come_back = bool(turns) and turns_back and not is_far and not (target.late and earlier)
    stands = float(settings[-1][0] + turns)
    after = float(now) + found.slope * float(turns) if target.late else line.at(stands)
    fraction = f"{'1/' if step < 1 else ''}{step.denominator} turn"
    rounding = f"to {fraction}, " + ("so that the reading comes out late" if target.late else "to the nearest")
    rounding += ", and no more than twice what the readings cover" if is_far else ""
    result = f"{_turns(turns)} {_way(turns)}" if turns else "no turn"
    steps = (
        *target.steps,
        Step(
            "what a turn does",
            "slope of the least-squares line through the readings",
            tuple(_reading_inputs(settings)),
            f"{degrees(abs(found.slope))} {'earlier' if found.slope > 0 else 'later'} for each turn in",
        ),
        Step(
            "next turn",
            _FORMULA_LATE if target.late else _FORMULA,
            (
                Input("target", angle(target.shown), target.source),
                Input("the screw is at", _setting(settings[-1][0]), READ),
                *adjuster.inputs,
            ),
            result,
            rounding,
        ),
    )
    answer, remarks = _answer(turns, come_back, now, after, target, adjuster)
    if halfway:
        answer.append("half the way first: what a turn does is known by a screw with play, and may be more")
    if is_far:
        answer.append("that far only, then read again: what a turn does is known from little")
    if not turns:
        side = " and on the safe side" if target.late else ""
        remarks.append(f"the rest is less than {fraction}{side}: leave it")
    if target.late and earlier:
        remarks.append(EARLIER)
    if abs(float(now) - line.at(points[-1][0])) > 1:
        remarks.append("the last reading is more than a degree off the line through all of them: read it again")
    values = {
        "turns_in": found.turns,
        "turns_in_rounded": float(turns),
        "target_deg": float(target.shown),
        "degrees_a_turn_in": found.slope,
        "reading_after_deg": after,
        "come_back": come_back,
    }
    return Worked("next turn of the screw", tuple(answer), values, steps, (*target.remarks, *remarks), target.cautions)


def _reads_now(settings: Sequence[tuple[Fraction, Fraction]], target: ScrewTarget) -> Fraction:
    """What it reads where the screw stands: the last reading; of a maximum the earliest of those in a row there.

    Raises:
        ReadingsContradict: those in a row there differ by more than a degree.
    """
    stands = settings[-1][0]
    here = [reading for _, reading in takewhile(lambda setting: setting[0] == stands, reversed(settings))]
    if max(here) - min(here) > _AGREE:
        raise ReadingsContradict(
            "the readings at one place differ by more than a degree: is something loose, or did your eye move? "
            "Read it again"
        )
    return max(here) if target.late else here[0]


def _reach(settings: Sequence[tuple[Fraction, Fraction]], step: Fraction) -> Fraction:
    """How many turns may be advised at once: what a turn does, known from little, may be much more."""
    places = [turns for turns, _ in settings]
    return max(step, round_to_step(min(_FAR, 2 * (max(places) - min(places))), step, Toward.DOWN))


def _is_reached(now: Fraction, target: ScrewTarget) -> bool:
    """Whether a reading is on target; of a maximum also on its safe side by no more than an eye can read."""
    return now == target.shown or (target.late and 0 < target.shown - now <= _READABLE)


def _answer(
    turns: Fraction, come_back: bool, now: Fraction, after: float, target: ScrewTarget, adjuster: AdjustingScrew
) -> tuple[list[str], list[str]]:
    """The lines of the answer, and remarks."""
    remarks = []
    if not turns:
        answer = [f"on target, leave it: it reads {angle(now)}, the target is {angle(target.shown)}"]
    else:
        answer = [
            f"turn {adjuster.part} {_turns(turns)} {_way(turns)}",
            f"that is {_clock(turns)}",
            f"it should then read about {angle(after, 1)}; the target is {angle(target.shown)}",
        ]
        if come_back:
            past = abs(turns) + _PAST
            answer.insert(
                2, f"backlash: go {_turns(past)} {_way(turns)}, then come back {_turns(_PAST)} {_way(-turns)}"
            )
        remarks.append("in is clockwise on a right-hand thread; always approach the target from the same side")
    nut = (
        "tighten the lock nut, then read again" if adjuster.locknut is not False else "read again after the last touch"
    )
    remarks.append(f"{nut}: only that reading counts as left")
    return answer, remarks


def _first_trial(
    settings: Sequence[tuple[Fraction, Fraction]], now: Fraction, target: ScrewTarget, adjuster: AdjustingScrew
) -> Worked:
    """The first turn, which shows what a turn does; of a maximum it goes later, wherever that is known."""
    turns = settings[-1][0]
    wanted = 0 if _is_reached(now, target) else (target.shown > now) - (target.shown < now)
    safely = target.late and wanted > 0
    way = _way(Fraction((-1 if target.late else wanted) * adjuster.sign or 1))
    known = bool(adjuster.sign and wanted)
    after = turns + (_PAST if way == "in" else -_PAST)
    answer = ["on target, leave it", f"the target is {angle(target.shown)}"]
    if wanted:
        answer = [
            f"turn {adjuster.part} 1/2 turn {way}, read again, and give both readings",
            f"it reads {angle(now)}; the target is {angle(target.shown)}, {'earlier' if wanted > 0 else 'later'}",
        ]
    if safely and known:
        answer.append("this first turn goes later, on the safe side, only to learn what a turn does")
    remarks = ["readings at one place do not show what a turn does; at two they do"]
    if wanted and not known:
        remarks.append(
            "which way this screw works is not known: if the reading goes the wrong way, turn it the other way"
        )
    if safely:
        remarks.append(EARLIER)
    step = Step(
        "first trial",
        "half a turn, to learn what a turn does",
        (Input("target", angle(target.shown), target.source), *_reading_inputs(settings), *adjuster.inputs),
        f"1/2 turn {way}" if wanted else "no turn",
    )
    values = {"turns_in_rounded": float(after - turns) if wanted else 0.0, "target_deg": float(target.shown)}
    return Worked(
        "next turn of the screw",
        tuple(answer),
        values,
        (*target.steps, step),
        (*target.remarks, *remarks),
        target.cautions,
    )


def _step_for(slope: float) -> Fraction:
    """The fraction of a turn to round to: an eighth, or finer where an eighth moves the reading far."""
    step = _EIGHTH
    while abs(slope) * step > _MOST_MOVE and step > _FINEST:
        step /= 2
    return step


def _rounded(turns: Fraction, step: Fraction, late: bool, slope: float) -> Fraction:
    if not late:
        return round_to_step(turns, step, Toward.NEAREST)
    return round_to_step(turns, step, Toward.DOWN if slope > 0 else Toward.UP)


def _reading_inputs(settings: Sequence[tuple[Fraction, Fraction]]) -> list[Input]:
    return [Input(f"reading at {_setting(turns)}", angle(reading), READ) for turns, reading in settings]


def _setting(turns: Fraction) -> str:
    return f"{_turns(turns)} {_way(turns)}" if turns else "the start"


def _way(turns: Fraction) -> str:
    return "in" if turns > 0 else "out"


def _turns(turns: Fraction) -> str:
    """A number of turns as a fraction, without its direction: ``1 1/4 turns``."""
    size = abs(turns)
    whole, part = divmod(size, 1)
    if part.denominator > 64:
        return f"{plain(size)} turns"
    words = " ".join(str(number) for number in (whole, part) if number) or "0"
    return f"{words} turn{'s' if size > 1 else ''}"


def _clock(turns: Fraction) -> str:
    """A number of turns as minutes on a clock face and flats of a hexagon."""
    whole, part = divmod(abs(turns), 1)
    words = [f"{whole} whole turn{'s' if whole > 1 else ''}"] if whole else []
    if part:
        words.append(f"{plain(part * 60, 1)} minutes on a clock face")
    return f"{' and '.join(words)}, or {plain(abs(turns) * 6, 1)} flats of a hexagon"
