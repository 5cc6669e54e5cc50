"""Targets and verdicts as text: what to set first, the printed figure beside it, then everything behind it."""

from __future__ import annotations

from kb.book.model.answer import INVENTED_WORDS, ORDER_OF_TRUST
from kb.cli.rendering import caution_words, cited_words, field
from kb.quantity import angle_in_words
from kb.working import working_lines

TYPE_CHECKING = False
if TYPE_CHECKING:
    from kb.book.model.answer import Answer
    from kb.book.setting.aim import Aim
    from kb.book.setting.judge import Judged


def aim_lines(target: Aim) -> list[str]:
    """A target as lines of text."""
    answer = target.answer
    lines = [*_head(answer), "", f"    set to  {target.show}   as the pointer shows it", ""]
    lines += field("figure", [_figure(answer)])
    lines += field("window", [str(target.window)] if target.window else [])
    lines += field("on rim", [target.rim.words] if target.rim else [])
    lines += field("piston", [f"{target.piston}, by the depth gauge"] if target.piston else [])
    lines += field("running", [target.running.words] if target.running.words else [])
    lines += field("note", list(target.remarks))
    lines += field("working", working_lines(target.working))
    return [*lines, *_behind(answer)]


def judged_lines(judged: Judged) -> list[str]:
    """A verdict as lines of text."""
    answer = judged.answer
    lines = [*_head(answer), "", f"    {angle_in_words(judged.reading)} is {judged.words}", ""]
    lines += field("figure", [_figure(answer)])
    lines += field("window", [str(judged.window)] if judged.window else [])
    lines += field("engine", [judged.would] if judged.would else [])
    lines += field("turn", [judged.turn] if judged.turn else [])
    lines += field("running", [judged.running.words] if judged.running.words else [])
    lines += field("allowed", [judged.allowed] if judged.allowed else [])
    lines += field("note", list(judged.remarks))
    lines += field("working", working_lines(judged.working))
    return [*lines, *_behind(answer)]


def _head(answer: Answer) -> list[str]:
    named = f"{answer.maker} {answer.name}: {answer.label.lower()}, {_state(answer)}"
    return [named, *([INVENTED_WORDS] if answer.invented else [])]


def _figure(answer: Answer) -> str:
    return f"{answer.printed}, {_state(answer)}, {'worked out' if answer.working else 'as printed'}"


def _state(answer: Answer) -> str:
    return ", ".join(part for part in (answer.state, answer.conditions) if part)


def _behind(answer: Answer) -> list[str]:
    lines = field("how sure", [answer.how_sure])
    lines += field("sources", [cited_words(cited) for cited in answer.evidence])
    lines += field("hazard", [answer.hazard] if answer.hazard else [])
    lines += field("cautions", [caution_words(caution) for caution in answer.cautions])
    lines += field("data of", [answer.date])
    return [*lines, ORDER_OF_TRUST]
