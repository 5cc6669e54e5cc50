"""Mutation testing: single changes are made in the arithmetic and in what leads to a target, and the tests must notice.

``python -m tests.mutants`` draws mutants by a seed, tries each in a copy below ``build/`` and prints what survives.
The changes are Cosmic Ray's. It mutates properties, tables and cached functions too, of which this code is full, and
each mutant is a plain file that an ordinary run of pytest imports, doctests and strict warnings included; mutmut leaves
decorated functions, and what stands outside functions, as they are. Files import downward in this order: drawing,
explained, trying, selection.
"""
