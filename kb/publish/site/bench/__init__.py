"""The bench aids: their fields, cautions and pages.

Files import downward in this order: fields, aids, pages.
"""
