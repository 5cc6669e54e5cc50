"""Finding families: the index that the start page reads, and lists for reading without scripts.

Files import downward in this order: index_files, lists.
"""
