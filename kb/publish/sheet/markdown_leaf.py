"""The leaf as Markdown: what to set, then the order of work as lines to tick."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.answer import INVENTED_WORDS
from kb.calc.dead_centre import STOP_JOB_BEYOND
from kb.publish.sheet.leaf import READINGS, Leaf, LeafFigure, LeafStep, LeafTarget, leaf_of
from kb.publish.sheet.markdown_words import ROOM, listed, room, sentence, words
from kb.publish.sheet.record import Blank, Sheet, SheetFigure


def leaf_lines(sheet: Sheet) -> list[str]:
    """The lines of the leaf."""
    leaf = leaf_of(sheet)
    return [*_head(sheet, leaf), *_dangers(leaf), *_targets(sheet, leaf), *_figures(leaf), *_work(sheet, leaf)]


def _head(sheet: Sheet, leaf: Leaf) -> Iterator[str]:
    yield f"# Bench sheet: {words(leaf.name)}"
    yield ""
    for line in (leaf.told_apart, *leaf.twins) if leaf.twins else ():
        yield f"**{words(sentence(line))}**"
        yield ""
    if sheet.invented:
        yield f"**{INVENTED_WORDS.capitalize()}. Set no real engine by it.**"
        yield ""
    yield f"**{sheet.first}** {words(sentence(leaf.job))} {sentence(sheet.rests_on)} The long sheet has the whole."
    yield ""
    if leaf.known:
        yield f"- It is this engine if: {words(leaf.known)}" if not leaf.twins else f"- {words(leaf.known)}"
    yield f"- {words(leaf.engine)}"
    yield f"- Serial number: {words(sheet.serial) or ROOM}; year: {sheet.year or ROOM}"
    yield f"- This family in the book: <{sheet.address}>"
    yield ""


def _dangers(leaf: Leaf) -> Iterator[str]:
    yield "## Dangers"
    yield ""
    yield from listed(f"- **{one.severity.upper()}: {words(one.title)}.** {words(one.text)}" for one in leaf.dangers)


def _targets(sheet: Sheet, leaf: Leaf) -> Iterator[str]:
    yield "## What to set"
    yield ""
    yield f"{leaf.centre} {READINGS}"
    yield ""
    for one in leaf.targets:
        yield from _target(sheet, one)


def _target(sheet: Sheet, one: LeafTarget) -> Iterator[str]:
    aim, given = one.target, one.target.given
    steps = f"step{'s' if len(one.steps) > 1 else ''} {', '.join(map(str, one.steps))}"
    yield f"### {words(', '.join(part for part in (one.label, given.when, steps) if part))}"
    yield ""
    if aim.set_to:
        how = ", worked out" if given.how == "worked out" else ""
        yield f"**Set to {aim.set_to}** ({aim.right}); printed **{words(given.printed)}**, " + words(
            f"{given.state}{how}; {given.sure}; {one.where}"
        )
    else:
        yield f"**No number.** {words(_why_none(given, one.where))}"
    yield ""
    yield from (f"- {name.capitalize()}: {words(text)}" for name, text in one.named)
    yield from (f"- Note: {words(note)}" for note in one.notes)
    if not sheet.dead_centre or not aim.set_to:
        which = "This engine" if aim.set_to else "Set, by what you find out"
        yield f"- {f'{one.rule} {which}'.strip()}: {room(Blank('', '', '°', True))}"
    yield from (f"- {words(blank.words)}: {room(blank)}" for blank in one.blanks)
    yield ""


def _why_none(given: SheetFigure, where: str) -> str:
    if not given.refused:
        return f"Printed {given.printed}, {given.when}; {given.sure}; {where}."
    return sentence(": ".join(filter(None, (given.refused, "; ".join(given.candidates)))))


def _figures(leaf: Leaf) -> Iterator[str]:
    yield "## Other figures"
    yield ""
    yield from listed(_figure(one) for one in leaf.figures)


def _figure(one: LeafFigure) -> str:
    given = one.given
    step = f" (step {one.step})" if one.step else ""
    if given.refused:
        when = f", {given.when}" if given.when else ""
        told = f"**{words(one.label)}**{step}{words(when)}: no number. {words(_why_none(given, one.where))}"
    else:
        also = f" ({words('; '.join(given.also))})" if given.also else ""
        how = "worked out, " if given.how == "worked out" else ""
        said = "; ".join((given.when, f"{how}{given.sure}", one.where, *one.notes))
        told = f"**{words(one.label)}**{step}: **{words(given.printed)}**{also}, {words(said)}"
    return "; ".join((f"- {told}", *(f"{words(blank.words)} {room(blank)}" for blank in one.blanks)))


def _work(sheet: Sheet, leaf: Leaf) -> Iterator[str]:
    yield f"**Left as it should not be**, or a gate passed with a line unticked: which, and why {ROOM}"
    yield ""
    yield "## The order of work"
    yield ""
    yield (
        f"Dead centre, half-way between the contacts of the stop; more than {STOP_JOB_BEYOND:g}° out: stop. Contact "
        f"before {ROOM} ° after {ROOM} °; pointer at true top dead centre "
        f"{words(sheet.dead_centre) or room(Blank('', '', '°', True))}"
    )
    yield ""
    for step in leaf.steps:
        yield f"- [ ] {_step(step)}"
        yield from (f"    - [ ] {words(item)}" for item in step.gate)
    yield ""
    yield from listed((f"- How it ran: {ROOM}", f"- Done by: {ROOM}", f"- Date: {ROOM}"))
    yield "## Sources"
    yield ""
    yield from (f"- Number {source.number}: {words(source.title)}" for source in sheet.sources)


def _step(step: LeafStep) -> str:
    parts = [f"{step.number}: {'**Gate.** ' if step.gate else ''}{words(step.whole)}"]
    if step.on_first:
        parts.append("Figure above.")
    if step.stale:
        parts.append(f"Then again {', '.join(map(str, step.stale))}.")
    parts += [f"**{one.severity.upper()}: {words(one.title)}.**" for one in step.cautions]
    if step.missing:
        parts.append("No figure is published.")
    return " ".join((*parts, *(f"{words(blank.words)} {room(blank)}" for blank in step.blanks)))
