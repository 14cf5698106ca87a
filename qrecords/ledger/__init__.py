"""The one log: entries, their leaves and tree, keys, triggers, verification.

`append.py` is the only writer. Knows no person, mounting or step; imports only `proof` (and Django).
"""
