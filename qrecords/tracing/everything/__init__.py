"""Everything that is kept, taken out in open formats: tables, entries with their leaves, original files.

Nothing here writes to the record; `take.py` alone leaves the entry that says who took it out.
"""
