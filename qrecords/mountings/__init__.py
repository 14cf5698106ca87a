"""Mountings: what the fitter records, and the findings that follow.

`actions` holds the only writers, `judging` folds and judges, `queries` reads. Imports point down: workshop,
evidence, people, ledger, steps.
"""
