"""A figure applied to the engine on the stand: its window in degrees, the target, the verdict, the order of work.

Files import downward in this order: job, pointer, flywheel, rim_position, when_running, window, aim, judge.
"""
