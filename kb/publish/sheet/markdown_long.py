"""The long sheet as Markdown: every step whole, with why, and what is behind each number."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.answer import INVENTED_WORDS
from kb.publish.sheet.markdown_words import ROOM, listed, room, sentence, words
from kb.publish.sheet.record import Sheet, SheetFigure, SheetStep, SheetTarget


def long_lines(sheet: Sheet) -> list[str]:
    """The lines of the long sheet."""
    return [*_head(sheet), *_targets(sheet), *_steps(sheet), *_readings(sheet), *_foot(sheet)]


def _head(sheet: Sheet) -> Iterator[str]:
    yield f"# Bench sheet: {words(sheet.full_name)}"
    yield ""
    for line in (sheet.told_apart, *sheet.twins) if sheet.twins else ():
        yield f"**{words(line[:1].upper() + line[1:])}.**"
        yield ""
    yield f"One engine, one job: {words(' · '.join(sheet.engine))}"
    yield ""
    if sheet.invented:
        yield f"**{INVENTED_WORDS.capitalize()}. Set no real engine by it.**"
        yield ""
    yield f"- Serial number: {words(sheet.serial) or f'{ROOM} (not given)'}"
    yield f"- Year: {sheet.year or f'{ROOM} (not given)'}"
    yield f"- Done by: {ROOM}"
    yield f"- Date: {ROOM}"
    yield ""
    yield "## Before you start"
    yield ""
    known = "; ".join([sheet.look_for or "the book does not say how to recognise it", *sheet.fits])
    called = f". Also called {', '.join(sheet.also_called)}" if sheet.also_called else ""
    yield f"- **It is this engine if:** {words(known + called)}."
    yield f"- **The job:** {words(f'{sheet.routine}. {sheet.about}')}"
    invented = f"; {INVENTED_WORDS}" if sheet.invented else ""
    hazards = "; ".join(one.words for one in sheet.hazards)
    yield (f"- **Based on:** {sheet.rests_on}{invented}. How sure, where a wrong value does harm: {words(hazards)}.")
    yield f"- **Who comes first:** {sheet.first}"
    yield f"- **This family in the book:** <{sheet.address}>"
    yield ""


def _targets(sheet: Sheet) -> Iterator[str]:
    yield "## What to set"
    yield ""
    yield f"**Dead centre.** {sheet.dead_centre_rule}"
    yield ""
    if not sheet.dead_centre:
        yield f"Pointer at true top dead centre: {ROOM} ° [ ] before [ ] after"
        yield ""
    for target in sheet.targets:
        yield from _target(sheet, target)


def _target(sheet: Sheet, target: SheetTarget) -> Iterator[str]:
    one = target.given
    yield f"### {words(', '.join(part for part in (one.label, one.when) if part))}"
    yield ""
    if target.set_to:
        yield f"**Set to {target.set_to}** ({target.right})"
        yield ""
        how = ", worked out" if one.how == "worked out" else ""
        yield f"- Printed **{words(one.printed)}**, {words(f'{one.state}{how}; {one.sure}; {one.where}')}"
    elif one.refused:
        yield f"**No number.** {words(sentence(one.refused))}"
        yield ""
        yield from (f"- In the book: {words(candidate)}" for candidate in one.candidates)
    else:
        yield f"**No target.** Printed {words(f'{one.printed}, {one.when}; {one.sure}; {one.where}')}."
        yield ""
    further = {"Margin": target.margin, "On the rim": target.rim, "Depth": target.piston, "Running": target.running}
    yield from (f"- {name}: {words(text)}" for name, text in further.items() if text)
    yield from (f"- Source: {words(f'{cited.says}: {cited.words}')}" for cited in one.cited)
    yield from (f"- Note: {words(note)}" for note in (*target.working, *one.remarks, *target.remarks))
    yield from (f"- Also {words(_given(other))}" for other in target.others)
    if not sheet.dead_centre or not target.set_to:
        rule = f"{target.rule} So on this engine set" if target.rule else "Set, by what you find out"
        yield f"- {rule}: {ROOM} ° [ ] before [ ] after"
    yield ""


def _given(one: SheetFigure) -> str:
    """A figure in a line."""
    if one.refused:
        when = f", {one.when}" if one.when else ""
        candidates = f" ({'; '.join(one.candidates)})" if one.candidates else ""
        return f"{one.label}{when}: no number; {one.refused}{candidates}"
    also = f" ({'; '.join(one.also)})" if one.also else ""
    remarks = "".join(f"; {remark}" for remark in one.remarks)
    return f"{one.label}: {one.printed}{also}, {one.when}; {one.how}, {one.sure}; {one.where}{remarks}"


def _steps(sheet: Sheet) -> Iterator[str]:
    yield "## The job, step by step"
    yield ""
    for step in sheet.steps:
        yield from _step(step)


def _step(step: SheetStep) -> Iterator[str]:
    gate = " **Gate: tick each one, then go on.**" if step.gate else ""
    yield f"### [ ] {step.number}. {words(step.do)}{gate}"
    yield ""
    for caution in step.cautions:
        text = f"As at step {caution.told_at}." if caution.told_at else words(f"{caution.text} ({caution.behind})")
        yield f"> **{caution.severity.upper()}: {words(caution.title)}.** {text}"
        yield ""
    if step.why:
        yield f"Why: {words(step.why)}"
        yield ""
    yield from listed(f"- [ ] {words(item)}" for item in step.gate)
    yield from listed(f"- Figure: {words(_given(one))}" for one in step.given)
    yield from listed(_aim(target) for target in step.targets)
    yield from listed(f"- {words(one.words)}: {room(one)}" for one in step.blanks)
    if step.stale:
        yield f"Then look again at step{'s' if len(step.stale) > 1 else ''} {', '.join(map(str, step.stale))}."
        yield ""


def _aim(target: SheetTarget) -> str:
    one = target.given
    if not target.set_to:
        return f"- Figure: {words(_given(one))}"
    printed = f"printed {one.printed}{', worked out' if one.how == 'worked out' else ''}; {one.sure}"
    return f"- {words(one.label)}, {words(one.when)}: **set to {target.set_to}**, {target.right}; {words(printed)}"


def _readings(sheet: Sheet) -> Iterator[str]:
    yield "## Readings"
    yield ""
    yield "The reading after the lock nut is tight is the one that counts."
    yield ""
    yield f"| Figure | Screw, turns | {' | '.join(f'Pull {pull}' for pull in sheet.pulls)} | Locked |"
    yield f"|---|---|{'---|' * len(sheet.pulls)}---|"
    for target in sheet.targets:
        yield from [f"| {words(target.given.label)} | | {'| ' * len(sheet.pulls)}| |"] * 2
    yield ""
    numbers = range(1, sheet.cylinders + 1)
    yield f"| Cylinder | {' | '.join(map(str, numbers))} |"
    yield f"|---|{'---|' * sheet.cylinders}"
    yield from (f"| {row} | {'| ' * sheet.cylinders}".rstrip() for row in ("Plug as found", "Plug after the run"))
    yield ""
    yield f"How it ran: {ROOM * 4}"
    yield ""


def _foot(sheet: Sheet) -> Iterator[str]:
    if sheet.rest:
        yield "## Other figures of this engine"
        yield ""
        yield from listed(f"- {words(_given(one))}" for one in sheet.rest)
    yield "## Sources"
    yield ""
    for source in sheet.sources:
        pages = f", page{'s' if len(source.pages) > 1 else ''} {', '.join(source.pages)}" if source.pages else ""
        yield f"- Number {source.number}: {words(f'{source.title}, {source.kind}{pages}')}"
