"""People: who may do what, since when, and how sure we are that it is they.

Users, roles, competence and the one role × action table. Imports point down: ledger, outbox, steps.
A person enters the ledger as a pseudonym and a salted hash of the name, never as a name.
"""
