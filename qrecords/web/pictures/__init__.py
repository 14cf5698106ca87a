"""The drawings: frozen dataclasses in, frozen dataclasses of ready strings and coordinates out.

What belongs here: geometry. A module knows one drawing; it never reads a database, never formats a number but
through the `Figures` it is given, and never judges: a verdict arrives as a word. The templates of the same
name in `templates/parts/` only place what stands here. Coordinates are strings with a point as decimal sign
whatever the reader's language, because a comma would break an SVG.
"""
