"""Taking in and checking: YAML files to findings and records.

Files import downward in this order: fault, nearest, lines, decoding, hostile, reader, documents, told, typing, judged,
desk, ranges, exemption, rules, folder, corpus, examine, watch, check, rows, edition, cache, known, tables, cores, renew,
run, authoring, printing, wheel_hook.
"""
