"""The book: families, sources and standings, ready for look-ups; light to import.

Files import downward in this order: fits, reference, records, address, engines, geometry, agreement, evidence,
standing, answer, derived, find, book, settle, resolve, query, select, telling, look_up, ways, job, pointer,
on_the_rim, setting, when_running, aim, judge, shelf, layout, opening, bind, verify, references, store. Where a book
answers through a file further down, it imports it when asked.
"""
