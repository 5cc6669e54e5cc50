"""Pure arithmetic in crank degrees, before top dead centre positive; no input or output.

Floor 1.

Files import downward in this order: circle, correction, finite, breaker, compression, coverage, crank, cylinders,
dead_centre, offset, plates, plug_hole, premix, readings, centre_pairs, rim, screw, speed, target.
"""
