"""Sound everyday work, simulated: what each rule says of mountings with which nothing is wrong.

`.venv/bin/python -m tests.everyday 2000` prints how often each rule and query fires; `docs/everyday-work.md`
keeps the last table.
"""
