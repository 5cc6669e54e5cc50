"""Putting an answer together from what is settled and what the book tells of the family."""

from __future__ import annotations

from kb.book.model.answer import CITED, ORDER_OF_TRUST, Answer

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Any

    from kb.book.model.book_reader import BookReader
    from kb.book.model.engine_ranges import Document


def tell(
    book: BookReader, family: str, told: Document, kind: Document, figure: str, cited: Sequence[Any], entry: Document
) -> Answer:
    """The answer that an entry of a settled figure gives; ``cited`` are the statements it speaks of by number."""
    maker = book.reference("maker", told["maker"]) or {}
    statements = []
    for number, role, reason in entry["statements"]:
        shown = dict(zip(CITED, cited[number], strict=True))
        source = book.reference("source", shown["source"]) or {}
        shown["source_kind"], shown["source_title"] = source.get("kind", ""), source.get("title", shown["source"])
        shown["role"], shown["reason"] = role, reason
        statements.append(shown)
    cautions = [book.reference("caution", caution) for caution in told.get("cautions", ())]
    return Answer(
        {
            "family": family,
            "name": told["name"],
            "maker": maker.get("name", told["maker"]),
            "figure": figure,
            "label": kind["label"],
            "state": entry["state"],
            "conditions": entry["conditions"],
            "value": entry["value"],
            "printed": entry["printed"],
            "unit": entry["unit"],
            "low": entry["low"],
            "high": entry["high"],
            "standing": entry["standing"],
            "rests_on": entry["rests_on"],
            "statements": statements,
            "working": entry["working"],
            "remarks": entry["remarks"],
            "hazard": kind.get("hazard_because", ""),
            "cautions": [caution for caution in cautions if caution is not None],
            "date": book.date,
            "invented": book.invented or told.get("invented") == "true",
            "first": ORDER_OF_TRUST,
        }
    )


def together(answers: Sequence[Answer]) -> Answer:
    """The answer where several kinds of engine have the same one: the least sure, with the statements of them all."""
    weakest = max(answers, key=_weakness)
    statements = list(weakest.document["statements"])
    for answer in answers:
        shown = [_without_role(cited) for cited in statements]
        statements += [cited for cited in answer.document["statements"] if _without_role(cited) not in shown]
    remarks = list(weakest.remarks)
    if len({answer.how_sure for answer in answers}) > 1:
        remarks.append("the same for every engine of the family, but not equally sure; given is the least sure")
    return Answer({**weakest.document, "statements": statements, "remarks": remarks})


def _weakness(answer: Answer) -> tuple[int, int]:
    from kb.vocabulary.evidence import HowSure  # only kinds of engine that differ are weighed

    rests_on = answer.document["rests_on"]
    return HowSure.words.index(answer.document["standing"]), HowSure.words.index(rests_on) if rests_on else 0


def _without_role(cited: Document) -> Document:
    """A statement apart from what it does for one kind of engine."""
    return {key: value for key, value in cited.items() if key not in ("role", "reason")}
