"""Reading and checking contributors' files: from YAML to findings and records.

Floor 4.

Files import downward in this order: yaml, models, facts, rules, check, compiling, json_schema, reporters, wheel_hook.
"""
