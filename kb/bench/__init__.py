"""The bench: the arithmetic worked through with names, units and sources, as a command or a page shows it.

Floor 3.

Files import downward in this order: wording, worked_calculation, compression, cylinders, dead_centre,
adjusting_screw, next_turn, piston, plates, premix, rim, rpm.
"""
