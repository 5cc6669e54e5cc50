"""What a check keeps for the next one: one SQLite file, bound to the version of the checker.

Files import downward in this order: checker_version, finding_rows, cache_file, changed_files, tables.
"""
