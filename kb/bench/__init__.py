"""The bench: the arithmetic worked through with names, units and sources, as a command or a page shows it.

Files import downward in this order: worked, said, dead_centre, next_turn, piston, rim, cylinders, plates,
compression, premix, rpm.
"""
