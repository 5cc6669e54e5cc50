"""The facts that rules check: values as numbers, the results of a family's statements, and what they are compared with.

Files import downward in this order: accepted, citation, float_values, family_facts, correction_sums, like_engines,
plausible_bounds, rule_context, range_places, second_units, serial_overlap, turning.
"""
