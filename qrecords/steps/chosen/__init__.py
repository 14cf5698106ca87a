"""Steps that a procedure chooses beside those of every mounting: one module each, with its fields and rules.

Each module holds a STEP; `work.py` finds it by its file, so that adding one touches nothing else in `steps/`.
Imports point to `steps` and `engineering`. Pure: no Django, no I/O, no clock.
"""
