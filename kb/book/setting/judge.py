"""Judges a reading by a figure: inside, or how far early or late, what the engine would do, which way to turn."""

from __future__ import annotations

from fractions import Fraction

from kb.book.model.engine_on_the_stand import ANY_ENGINE, EngineOnTheStand
from kb.book.setting.aim import set_on_engine
from kb.book.setting.pointer import pointer_input, pointer_remarks
from kb.book.setting.verdict_words import maximum_words, verdict_words
from kb.book.setting.when_running import WhenRunning, when_running
from kb.calc.dead_centre import true_angle
from kb.calc.target import Off, Verdict, judge_reading
from kb.frozen import record
from kb.quantity import Quantity, angle_in_words, plain
from kb.vocabulary.engine import TurningIn
from kb.vocabulary.work import FALSE_LATE_IN_SHORT
from kb.working import Input, Step, Working, working_document

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from kb.book.model.answer import Answer
    from kb.book.model.book_reader import BookReader
    from kb.book.setting.window import Setting


@record()
class Judged:
    """A judged reading: ``reading`` as the pointer showed it, ``true`` without the pointer's error, both in signed
    degrees; the ``verdict``, and the same in ``words``; the ``window`` of readings that are right; what the engine
    ``would`` do with it; which way to ``turn``; what is ``allowed`` beyond the printed figure; what it will be when
    ``running``."""

    answer: Answer
    reading: Fraction
    true: Fraction
    verdict: Verdict
    words: str
    window: Quantity | None
    would: str
    turn: str
    allowed: str
    running: WhenRunning
    working: Working
    remarks: tuple[str, ...]

    def to_document(self) -> dict[str, Any]:
        """The same as plain values for JSON, the figure's own answer in it; numbers as text."""
        return {
            "family": self.answer.family,
            "figure": self.answer.figure,
            "state": self.answer.state,
            "reading": angle_in_words(self.reading),
            "true": angle_in_words(self.true),
            "verdict": self.verdict.off.value,
            "out_by_deg": plain(self.verdict.degrees),
            "words": self.words,
            "printed": self.answer.printed,
            "how_sure": self.answer.how_sure,
            "window": None if self.window is None else str(self.window),
            "would": self.would,
            "turn": self.turn,
            "allowed": self.allowed,
            "running": self.running.to_document(),
            "working": working_document(self.working),
            "remarks": list(self.remarks),
            "answer": self.answer.to_document(),
            "date": self.answer.date,
            "invented": self.answer.invented,
        }


def judge(
    book: BookReader, family: str, figure: str, reading: Fraction | int, engine: EngineOnTheStand = ANY_ENGINE
) -> Judged:
    """Judge what the pointer shows, in signed degrees (before top dead centre positive), against a figure of a family.

    A lone printed number allows half a unit of its last printed place on both sides, but a maximum never on its early
    side. A margin chosen below a lone maximum is allowed on the late side. Degrees out are counted from the printed
    figure or the window's end.

    Raises:
        LookUpError, Refusal: as ``Book.look_up``.
        DeadCentreTooFar, MarginTooWide, NotAnAngle: as ``aim``.
    """
    reading = Fraction(reading)
    answer, heading, found = set_on_engine(book, family, figure, engine)
    true = true_angle(reading, engine.pointer)
    verdict = judge_reading(true, found.low, found.high, found.late, found.early)
    kind = book.figures[answer.figure].document
    words = maximum_words(verdict, found, true, engine.pointer) if found.is_limit else verdict_words(verdict)
    would = {Off.EARLY: "if_early", Off.LATE: "if_late"}.get(verdict.off, "")
    running = when_running(book, answer, reading, engine)
    cited = "worked out above" if answer.working else answer.where
    steps = (
        Step(
            "true angle",
            "reading - dead-centre reading",
            (Input("reading", angle_in_words(reading), "this engine"), pointer_input(engine.dead_centre)),
            angle_in_words(true),
        ),
        Step(
            "verdict",
            "true angle compared with the figure",
            (
                Input("true angle", angle_in_words(true)),
                Input(f"{answer.label.lower()}, {answer.state}", answer.printed, cited),
                Input("allowed beyond it", f"{plain(found.late)}° late, {plain(found.early)}° early"),
            ),
            words,
        ),
    )
    return Judged(
        answer,
        reading,
        true,
        verdict,
        words,
        found.allowed(engine.pointer),
        str(kind.get(would, "")),
        _turn(heading.part("adjusters", answer.figure), verdict, found.is_limit),
        _allowed(found),
        running,
        (*answer.working, *steps, *running.working),
        (*answer.remarks, *pointer_remarks(engine.dead_centre)),
    )


def _allowed(found: Setting) -> str:
    """The allowance beyond the printed figure, and why; empty for a window, whose ends are the limits."""
    if not found.lone:
        return ""
    if found.low is None:
        return "it is printed as a limit: no reading is too late, and none may be earlier"
    chosen = f" and the {plain(found.margin)}° of margin that you chose" if found.margin else ""
    early = f"{plain(found.early)}°" if found.early else "nothing"
    return (
        f"a lone number: {plain(found.late)}° on the late side, for the rounding of its last digit or the reading by "
        f"eye{chosen}; {early} on the early side"
    )


def _turn(adjuster: Any, verdict: Verdict, is_limit: bool) -> str:
    """Which way to turn, where the family's file says what turning in does; empty for a reading inside. A maximum is
    not made earlier on one reading, which may be falsely late.
    """
    if verdict.off is Off.INSIDE:
        return ""
    if is_limit and verdict.off is Off.LATE:
        return f"make nothing earlier on one reading: see to {FALSE_LATE_IN_SHORT}; then read again"
    wanted = TurningIn.LATER if verdict.off is Off.EARLY else TurningIn.EARLIER
    if not adjuster:
        return f"make it {wanted}; the file does not say with which screw"
    part, effect = adjuster["part"], adjuster.get("turning_in")
    if "holes" in adjuster:
        return f"make it {wanted}: put the {part} into another hole, and read again"
    if effect not in (TurningIn.EARLIER, TurningIn.LATER):
        return f"make it {wanted} at the {part}; direction unknown: turn it a little and read again"
    locked = "; the reading after the lock nut is tight is the one that counts"
    lock = locked if adjuster.get("locknut") == "true" else ""
    return f"make it {wanted}: turn the {part} {'in' if effect == wanted else 'out'}{lock}"
