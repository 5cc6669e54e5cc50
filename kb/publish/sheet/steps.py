"""The steps of the job on the sheet, each with its figure, target, cautions and boxes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from kb.publish.sheet.blanks import blanks_of
from kb.publish.sheet.given import SheetJob, all_given
from kb.publish.sheet.record import SheetCaution, SheetStep
from kb.publish.sheet.targets import is_timed, targets_of
from kb.vocabulary.work import CautionSeverity

if TYPE_CHECKING:
    from kb.book.book import Book
    from kb.book.setting.job import Job, JobStep


def steps_of(job: SheetJob, work: Job, cylinders: int) -> tuple[SheetStep, ...]:
    """Every step of the job, numbered from 1; the text of a caution stands at the first step that has it."""
    numbers = {step.id: number for number, step in enumerate(work.steps, 1)}
    text_at: dict[str, int] = {}
    return tuple(_step(job, step, work.disturbed_before(step), numbers, text_at, cylinders) for step in work.steps)


def _step(
    job: SheetJob,
    step: JobStep,
    disturbed: tuple[str, ...],
    numbers: dict[str, int],
    text_at: dict[str, int],
    cylinders: int,
) -> SheetStep:
    timed = [figure for figure in step.figures if is_timed(job, figure)]
    targets = tuple(one for figure in timed for one in targets_of(job, step, figure, numbers[step.id]))
    stated = {figure: all_given(job, figure) for figure in step.figures if figure not in timed}
    return SheetStep(
        numbers[step.id],
        step.id,
        " ".join(filter(None, (step.do, step.more))),
        step.why,
        tuple(one for given in stated.values() for one in given),
        targets,
        cautions_of(job.book, step.cautions, numbers[step.id], text_at),
        step.gate,
        blanks_of(job, step, stated, targets, cylinders),
        tuple(numbers[name] for name in disturbed),
        step.module,
    )


def cautions_of(book: Book, names: tuple[str, ...], number: int, text_at: dict[str, int]) -> tuple[SheetCaution, ...]:
    """Cautions of a step from their ids, danger first; ``text_at`` keeps the step that has the text of each."""
    cautions = []
    for name in names:
        if document := book.cautions.get(name):
            at = text_at.setdefault(name, number)
            title, text, behind = map(_line, (document["title"], document["text"], document["behind"]))
            cautions.append(SheetCaution(document["severity"], title, text, behind, at if at != number else 0))
    return tuple(sorted(cautions, key=lambda caution: CautionSeverity.words.index(caution.severity)))


def _line(words: str) -> str:
    return " ".join(words.split())
