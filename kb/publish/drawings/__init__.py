"""Drawings: the flywheel rim of a family, its cranking against its running timing, a degree tape to print.

Files import downward in this order: lettering, picture, handedness, rim_view, aimed, wheel, unrolled, rim, rim_strip,
running_view, axes, running, tape_plan, strip, tape, tape_pdf.
"""
