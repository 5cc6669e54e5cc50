"""Looking up one figure of one family, strictly: an answer with its evidence, or an error with the candidates.

Files import downward in this order: answer_parts, conditions, twins, which_family, look_up, combinations.
"""
