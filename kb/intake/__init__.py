"""Taking in and checking: YAML files to findings and records.

Floor 4.

Files import downward in this order: yaml, models, facts, rules, check, compiling, json_schema, reporters, wheel_hook.
"""
