"""The planner: typed inputs in, a whole plan of fit and heat out. No case, no entry, nothing is kept.

`asked` reads what was typed, `plan` works it out with the models of `engineering`, `judging` says how each
result stands. What the steps judge with holds here too: the same limits, ceilings and chances.
"""
