"""Print the table of worst errors."""

from __future__ import annotations

from tests.accuracy import BOUNDS, table

for name, (plain, conditioned) in table().items():
    print(f"{name:26} plain {plain:10.2f}   conditioned {conditioned:6.2f}   bound {BOUNDS[name] or '-'}")
