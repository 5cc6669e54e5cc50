"""``python -m kb.cli``."""

import sys

from kb.cli import main

sys.exit(main())
