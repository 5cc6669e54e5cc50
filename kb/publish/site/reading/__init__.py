"""Reading pages: hand-written, made from the book, and the pages of the rules.

Files import downward in this order: from_the_book, hazard_page, row_drawing, drawings, rule_pages,
hand_written.
"""
