"""The degree tape as a PDF: each sheet of SVG on a page of its own size, unscaled."""

from __future__ import annotations

import typst

from kb.publish.drawings.picture import clean
from kb.publish.drawings.tape import tape_sheets, title_of
from kb.publish.drawings.tape_plan import PAPERS, TapePlan

_PAGES = b"""
#set document(title: sys.inputs.title, date: none)
#set page(width: eval(sys.inputs.width), height: eval(sys.inputs.height), margin: 0mm)
#for number in range(int(sys.inputs.count)) {
  image(bytes(sys.inputs.at("sheet" + str(number))), format: "svg", width: 100%, height: 100%, alt: sys.inputs.title)
}
"""


def tape_pdf(plan: TapePlan) -> bytes:
    """The tape as a PDF on the plan's paper, the same bytes on every machine."""
    width, height = (f"{float(side):g}mm" for side in PAPERS[plan.paper])
    sheets = tape_sheets(plan)
    inputs = {"title": clean(title_of(plan)), "width": width, "height": height, "count": str(len(sheets))}
    inputs |= {f"sheet{number}": sheet for number, sheet in enumerate(sheets)}
    made = typst.Compiler(_PAGES, ignore_system_fonts=True, sys_inputs=inputs).compile(format="pdf", timestamp=0)
    assert isinstance(made, bytes)
    return made
