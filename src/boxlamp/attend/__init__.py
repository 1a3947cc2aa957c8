"""The box-side console: the board in view, the clocks ticking, one line to type in.

``sitting`` is everything that happens at the console, without a terminal; ``console`` is the
terminal around it. The others are small: keys, sound, completion, palette, the half-typed line.
"""
