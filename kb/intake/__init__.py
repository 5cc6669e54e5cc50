"""Taking in and checking: YAML files to findings and records.

Files import downward in this order: fault, nearest, reader, documents, told, typing, judged, desk, ranges, rules, corpus, cache,
check, authoring, printing, wheel_hook.
"""
