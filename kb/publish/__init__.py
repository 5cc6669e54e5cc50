"""Publications: what is made of a book for people and programs, one file each.

Floor 4.

Files import downward in this order: drawings, sheet, site, vectors, browser_vocabulary.
"""
