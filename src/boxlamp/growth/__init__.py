"""Growth: what the scale says of a litter over days and weeks, and what it is held beside.

Nothing here raises an alert: the rules do that. ``latest`` and ``table`` set out the weights,
``curve`` and ``feeding`` hold published reference values, each with its source beside it.
"""
