"""Where journal, language and engine meet: one litter open, one line written down.

The command line and the console both sit at this desk, so that a line means the same, and is
as safe, wherever it was typed.
"""
