"""A wrong figure must be hard to enter: single slips planted where the book holds redundant evidence.

Files import downward in this order: evidence, kinds, plant, __main__.
"""
