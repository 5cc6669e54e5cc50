"""Taking in and checking: YAML files to findings and records.

Files import downward in this order: fault, reader, documents, typing, desk, rules, corpus, cache, check, authoring,
printing, wheel_hook.
"""
