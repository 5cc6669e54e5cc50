"""The cache that a check leaves for the next one: an SQLite file that is valid for one version of the checker.

Files import downward in this order: checker_version, finding_rows, cache_file, rows, changed_files.
"""
