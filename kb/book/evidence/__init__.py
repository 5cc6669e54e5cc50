"""Conclusions from the statements of a figure: which count, whether they agree, what follows from other figures.

Files import downward in this order: agreement, roles, standing, derived, conclusions.
"""
