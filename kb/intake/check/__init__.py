"""Checking a folder: which files have changed, each file by itself, then the whole book; on all cores, with a cache.

Files import downward in this order: folder, file_kinds, kept, failures, one_file, tracked_context, parallel,
whole_book, incremental, whole_folder.
"""
