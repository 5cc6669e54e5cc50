"""Engines by hand, of every kind that the orders of work tell apart, and the jobs on them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import product
from typing import Any

from kb.book.setting.job import Job, job
from kb.book.store.in_memory import MemoryBook
from kb.vocabulary.engine import IgnitionType, Linkage

LINKAGES = Linkage.words
IGNITIONS = IgnitionType.words

Engine = Mapping[str, Any]


def engine(
    linkage: str | None,
    ignition: str | None = "capacitor-discharge",
    *,
    modules: bool = False,
    carburettors: str | None = "3",
    cylinders: str = "3",
    marks: bool | None = True,
) -> Engine:
    """A family by hand; what is ``None`` its file does not say."""
    made: dict[str, Any] = {"name": "Made 30", "maker": "skerrow", "figures": {}, "engine": {"cylinders": cylinders}}
    if linkage:
        made["linkage"] = linkage
    if ignition:
        made["ignition"] = {"type": ignition, **({"modules": ["idle-advance"]} if modules else {})}
    if carburettors:
        made["engine"]["carburettors"] = carburettors
    if marks is not None:
        made["flywheel"] = {"rotation": "clockwise", **({"numbered_marks": {"btdc": ["10"]}} if marks else {})}
    return made


def every_engine(linkage: str) -> Iterator[Engine]:
    """Every combination of what the steps ask about, and of what a file leaves out."""
    for ignition, modules, carburettors, cylinders, marks in product(
        (None, *IGNITIONS), (False, True), (None, "1", "2", "6"), ("1", "6"), (None, False, True)
    ):
        yield engine(linkage, ignition, modules=modules, carburettors=carburettors, cylinders=cylinders, marks=marks)


def job_of(book: MemoryBook, made: Engine, routines: Mapping[str, Any] | None = None) -> Job:
    """The job on an engine by hand, by the book's routines or by others."""
    made_up = replace(book, documents={"skerrow/made-30": made}, routines=routines or book.routines)
    return job(made_up, "skerrow/made-30")


def ids(work: Job) -> list[str]:
    """The names of a job's steps in their order."""
    return [step.id for step in work.steps]
