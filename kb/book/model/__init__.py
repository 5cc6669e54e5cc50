"""Plain frozen records of a book's content, and the interface for reading a book.

Files import downward in this order: engine_ranges, documents, catalogue, engine_on_the_stand,
engine_kinds, family, crank_geometry, heading_reader, hit, book_reader, standing, answer.
"""
