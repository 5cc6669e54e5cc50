"""A figure applied to the engine on the stand: its window in degrees, the target, the verdict, the order of work, and
what a report says of an angle that was read.

Files import downward in this order: set_state, routine_figures, job, pointer, reported_angle, flywheel, rim_position,
when_running, window, verdict_words, aim, judge.
"""
