"""What was recorded once must be readable for ever: one payload of every kind and schema version, kept as it
was signed. `python -m tests.record.keep` adds what is missing; what lies in `old/` is never written again."""
