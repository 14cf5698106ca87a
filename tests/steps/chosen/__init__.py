"""One module for each step that a procedure chooses: named after it, with what is sound, and its row."""
