"""A picture as lines, boxes, dots and words: drawn once, painted as SVG and into a PDF.

Coordinates are points (1/72 inch) from the top left corner, y downwards.
"""

from typing import Literal, NamedTuple

from boxlamp.paper.document import Role

Anchor = Literal["start", "middle", "end"]


class Stroke(NamedTuple):
    """A line through points; ``dashed`` for lines of reference."""

    points: tuple[tuple[float, float], ...]
    role: Role = ""
    width: float = 0.8
    dashed: bool = False


class Box(NamedTuple):
    """A filled rectangle."""

    x: float
    y: float
    width: float
    height: float
    role: Role = ""


class Dot(NamedTuple):
    """A filled circle."""

    x: float
    y: float
    radius: float
    role: Role = ""


class Label(NamedTuple):
    """Words on a baseline at ``y``."""

    x: float
    y: float
    text: str
    size: float = 7.0
    anchor: Anchor = "start"
    role: Role = ""


Shape = Stroke | Box | Dot | Label


class Picture(NamedTuple):
    """A drawing of a fixed size. ``told`` says in words what it shows."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
    told: str
