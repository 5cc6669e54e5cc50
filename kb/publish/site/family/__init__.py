"""A family's page: one document in which every fact stands once, and the page drawn from it.

Files import downward in this order: page_types, view_types, engine_rows, figure_cautions, ran_at_dots, set_line,
shared, figures, twins, document, statements, template, value_parts, view.
"""
