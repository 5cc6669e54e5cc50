"""Plain frozen records of what a book holds, and what a book can be asked.

Files import downward in this order: engine_ranges, documents, catalogue, engine_on_the_stand, engine_kinds, family,
crank_geometry, heading_reader, hit, book_reader, standing, answer.
"""
