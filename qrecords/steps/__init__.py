"""The steps of a mounting: what is captured, and the rules that judge it. Pure.

One module per step. `case.py` folds entries into a Case and holds states and legal transitions;
`standard.py` lists the steps. Imports point down: engineering, proof. No Django, no I/O, no clock.
"""
