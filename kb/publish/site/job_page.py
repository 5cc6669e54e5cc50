"""The page of the job: an empty frame that the site's scripts fill, with a note for browsers without scripts.

Its ninety scripts are joined into a few, since a slow line would need seconds to ask for one after the other.
"""

from __future__ import annotations

import re

from kb.publish.site.foot import foot, strip
from kb.publish.site.frame import Frame

_ROOT = "../"
_SHEETS = ("finding.css", "job.css", "job-step.css", "job-print.css")
JOB_SCRIPT = "bundled/job.js"
"""The joined scripts, those of the foot among them; made by ``python -m tests.bundle``."""

_IMPORTED = re.compile(r'(?:from|import)"\./([\w-]+\.js)"')
_NO_SCRIPTS = (
    "<p><strong>This page works through a job step by step, and needs scripts switched on.</strong></p>"
    "<p>Without them the same job can be printed and worked through on paper: <code>stopscrew sheet skerrow/ketch-47"
    "</code> gives its bench sheet, <code>stopscrew job skerrow/ketch-47</code> its steps in order. Put the family of "
    f'your engine in the place of <code>skerrow/ketch-47</code>; <a href="{_ROOT}">find it here</a>.</p>'
)


def job_page(frame: Frame, invented: bool, script: str) -> str:
    """The whole page: head and foot, and between them the part that the scripts replace; ``script`` is the text of
    ``JOB_SCRIPT``, which imports further files beside it."""
    parts = [f"bundled/{name}" for name in _IMPORTED.findall(script)]
    body = (
        f'<main class="job">{strip(invented)}<header><h1 id="job-title" tabindex="-1">Jobs</h1></header>'
        f'<div id="job">{_NO_SCRIPTS}</div>{foot(_ROOT)}</main>'
    )
    return frame.page("Jobs", body, _ROOT, (JOB_SCRIPT,), _SHEETS, parts)
