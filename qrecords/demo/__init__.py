"""The demonstration: invented people, machines, readings and drawn photographs.

Everything is recorded through the same actions a person uses. It stands beside `web` and `api` and imports
whatever it needs from below; nothing imports it.
"""
