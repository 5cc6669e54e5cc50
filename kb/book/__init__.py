"""The book: families, sources and standings, ready for look-ups; light to import.

Files import downward in this order: records, address, standing, derived, search, shelf, store, look_up, find.
"""
