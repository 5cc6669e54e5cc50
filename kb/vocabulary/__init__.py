"""Every closed list of words, once: states, conditions, what an engine is like, hazards, sources, the work.

Floor 0.

A word is written nowhere else in the code: models, schemas, the command line's choices and
``site/assets/vocabulary.js`` are made from these. To rename one, change it here and in the data. Units and sides are in
``kb.quantity``, the severity of a finding in ``kb.finding``.

Files import downward in this order: words, states, conditions, engine, catalogue, evidence, work.
"""
