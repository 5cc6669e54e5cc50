"""Check vectors: rows of input and output of every calculation, for other programs to pass.

Files import downward in this order: calculation, cases, crank, offset, centre, rim, cylinders, target, readings,
screw, plates, speed, mixture, breaker, shape, writing, __main__.
"""
