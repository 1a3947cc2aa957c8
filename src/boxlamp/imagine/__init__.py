"""Imagined nights: whelpings drawn from published figures, normal and troubled, by a seed.

``figures`` holds every number and its source. ``whelping`` draws a ``course``: what truly happens.
A module of ``troubles`` changes it. The ``keeper`` writes down what a person by the box would, and
``written`` makes entries of that. Nothing here knows a rule, a limit or an alert: what a protocol
is tried on must not have been made by it.
"""

from boxlamp.imagine.draw import imagine
from boxlamp.imagine.imagined import SIZES, Imagined, Size
from boxlamp.imagine.troubles import TROUBLES

__all__ = ["SIZES", "TROUBLES", "Imagined", "Size", "imagine"]
