"""The words of the steps that a procedure chooses: one module a step, found by its file (`chosen_words.py`).

Each holds WORDS: the step's name, where it stands among the pages of its screen, and what its fields,
findings and photos are called. Imports point to `web/step_words.py` alone.
"""
