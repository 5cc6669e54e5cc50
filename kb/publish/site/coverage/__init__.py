"""What the book holds, by family and figure, as pictures and in words.

Files import downward in this order: tally, grid, pages.
"""
