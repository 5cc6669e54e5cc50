"""Builds an answer from the conclusions on a figure and the facts of the family."""

from __future__ import annotations

from kb.book.model.answer import ORDER_OF_TRUST, Answer

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence

    from kb.book.model.book_reader import BookReader
    from kb.book.model.catalogue import FigureKind
    from kb.book.model.documents import CitedDocument, CitedRow, NamedDocument, ValueEntry


def answer_from(
    book: BookReader, family: str, about: NamedDocument, kind: FigureKind, cited: Sequence[CitedRow], entry: ValueEntry
) -> Answer:
    """The answer for an entry of the conclusions on a figure; it refers to the statements ``cited`` by number."""
    maker = book.makers.get(about["maker"])
    cautions = [book.cautions.get(caution) for caution in about.get("cautions", ())]
    return Answer(
        {
            "family": family,
            "name": about["name"],
            "maker": maker.name if maker else about["maker"],
            "figure": kind.id,
            "label": kind.label,
            "state": entry["state"],
            "conditions": entry["conditions"],
            "value": entry["value"],
            "printed": entry["printed"],
            "unit": entry["unit"],
            "low": entry["low"],
            "high": entry["high"],
            "standing": entry["standing"],
            "rests_on": entry["rests_on"],
            "statements": [_shown(book, cited[number], role, reason) for number, role, reason in entry["statements"]],
            "working": entry["working"],
            "remarks": entry["remarks"],
            "hazard": kind.hazard_because,
            "cautions": [caution for caution in cautions if caution is not None],
            "date": book.date,
            "invented": book.invented or about.get("invented") == "true",
            "first": ORDER_OF_TRUST,
        }
    )


def _shown(book: BookReader, cited: CitedRow, role: str, reason: str) -> CitedDocument:
    printed, also, state, conditions, only, source, page, note = cited
    known = book.sources.get(source)
    return {
        "printed": printed,
        "also": also,
        "state": state,
        "conditions": conditions,
        "only": only,
        "source": source,
        "page": page,
        "note": note,
        "source_kind": known.kind if known else "",
        "source_title": known.title if known else source,
        "role": role,
        "reason": reason,
    }


def least_sure_of(answers: Sequence[Answer]) -> Answer:
    """One answer for several kinds of engine with the same value: the least sure one, with the statements of all."""
    weakest = max(answers, key=_weakness)
    statements = list(weakest.document["statements"])
    for answer in answers:
        shown = [_without_role(cited) for cited in statements]
        statements += [cited for cited in answer.document["statements"] if _without_role(cited) not in shown]
    remarks = list(weakest.remarks)
    if len({answer.how_sure for answer in answers}) > 1:
        remarks.append("the same for every engine of the family, but not equally sure; the least sure is given")
    return Answer({**weakest.document, "statements": statements, "remarks": remarks})


def _weakness(answer: Answer) -> tuple[int, int]:
    """How weakly an answer is supported, by its standing and that of the figures it is worked out from."""
    from kb.vocabulary.evidence import HowSure  # only kinds of engine that differ are weighed

    standing = answer.document["standing"]
    return HowSure.words.index(standing), HowSure.words.index(answer.document["rests_on"] or standing)


def _without_role(cited: CitedDocument) -> dict[str, object]:
    """A statement without its role, which may differ between kinds of engine."""
    return {key: value for key, value in cited.items() if key not in ("role", "reason")}
