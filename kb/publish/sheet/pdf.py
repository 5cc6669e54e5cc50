"""The sheet as a PDF, typeset without the machine's fonts or libraries, so that every machine makes the same file."""

from __future__ import annotations

import json
from pathlib import Path

import typst

from kb.book.model.answer import INVENTED_WORDS
from kb.calc.dead_centre import STOP_JOB_BEYOND
from kb.publish.sheet.address import qr_code
from kb.publish.sheet.leaf import READINGS, leaf_of
from kb.publish.sheet.record import Sheet, plain_values

PAPERS = {"a4": "a4", "letter": "us-letter"}
"""Paper sizes by what is typed, as the typesetter names them."""


def sheet_pdf(sheet: Sheet, paper: str = "a4", *, long: bool = False) -> bytes:
    """The PDF, one leaf or the long sheet; ``paper`` is one of ``PAPERS``."""
    values = plain_values(sheet)
    drawings = [{"title": title, "svg": drawing} for title, drawing in values.pop("drawings")]
    data = {
        "sheet": values,
        "leaf": None if long else plain_values(leaf_of(sheet)),
        "readings": READINGS,
        "drawings": drawings,
        "paper": PAPERS[paper],
        "qr": qr_code(sheet.address),
        "invented_words": INVENTED_WORDS,
        "rests_on": sheet.rests_on,
        "beyond": f"{STOP_JOB_BEYOND:g}",
    }
    made = typst.compile(
        Path(__file__).with_name("sheet.typ" if long else "leaf.typ"),
        format="pdf",
        ignore_system_fonts=True,
        sys_inputs={"data": json.dumps(data)},
        timestamp=0,
    )
    return bytes(made)
