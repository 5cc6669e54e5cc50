"""The book: families, sources and standings, for look-ups; light to import.

Floor 2.

Files import downward in this order: model, evidence, find, lookup, setting, book, store.
"""
