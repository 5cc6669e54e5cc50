"""Reading YAML: bytes to a tree in which every scalar is text at its line and column, or to faults.

Files import downward in this order: fault, text_lines, decoding, limits, salvage, syntax_errors, tree, reader.
"""
