"""When clocks run: one module per rule, and a plain registry.

A rule watches a story and says for which stretches of time something has been true. It knows
no numbers: how long is too long is the protocol's business, and turning the two into alerts is
the engine's.
"""
