"""Publications: drawings, sheets, the site and check vectors, made from a book for people and programs.

Floor 4.

Files import downward in this order: drawings, sheet, site, vectors, browser_vocabulary.
"""
