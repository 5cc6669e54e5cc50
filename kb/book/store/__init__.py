"""How a book is stored: in memory, or compiled to one SQLite file.

Files import downward in this order: file_format, in_memory, lazy_catalogue, opening, verify, compiled, writing.
"""
