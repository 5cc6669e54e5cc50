"""Taking in and checking: YAML files to findings and records.

Files import downward in this order: fault, nearest, lines, decoding, hostile, nodes, cutting, stumble, reader,
documents, told, typing, cited, glance, judged, conversion, adding_up, siblings, overlap, plausible, desk, ranges,
exemption, rules, folder, corpus, examine, watch, check, rows, edition, cache, known, tables, cores, renew, run,
compile, authoring, printing, wheel_hook.
"""
