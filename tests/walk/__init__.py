"""An engine that turns and a mechanic who does what the screens say: no job ends finished with the engine early.

Files import downward in this order: engine, phone and words, book, drawing, stand, mechanic, careless, judging,
walks, faults, table, __main__.
"""
