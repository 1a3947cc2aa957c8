"""What happened: entries, the words for what they say, and the litter folded from them.

Nothing here reads a clock, a file or a terminal. Every other room may import this one.
"""
