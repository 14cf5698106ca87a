"""The workshop: sites, machines, rebuilds, journals, bearings, equipment, procedures.

Registers that mountings refer to. Each change is an entry; rows are what is looked up. Imports point down:
evidence, people, ledger, steps.
"""
