"""Measurements of what the design promises: each figure beside its peer from the same run. Run by ``make bench``."""
