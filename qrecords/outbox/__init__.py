"""Work that follows a transaction: jobs written in it, claimed and swept later; the `serve` command.

Imports nothing else of ours; a handler is known by its dotted path in the settings only.
"""
