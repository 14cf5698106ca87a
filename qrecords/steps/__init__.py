"""The steps of a mounting: what is captured, and the rules that judge it. Pure.

One module per step; `work.py` lists the steps, `standard.py` the rules. `folding.py` folds entries into a
Case (`case.py`); `transitions.py` holds states and what is refused in them. Imports point down: engineering,
proof. No Django, no I/O, no clock.
"""
