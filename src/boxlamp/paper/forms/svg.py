"""A picture as an SVG element that stands in a page: no script, no style, nothing fetched."""

from collections.abc import Sequence
from typing import NamedTuple

from markupsafe import Markup

from boxlamp.paper.document import Role
from boxlamp.paper.forms.shapes import Box, Dot, Label, Picture, Shape, Stroke
from boxlamp.view.text import clean


class Ink(NamedTuple):
    """The colours of a role: of its lines and words, and of its areas.

    Words and lines stand out from white by 4.5 to 1 and more; in grey the areas still differ.
    """

    line: str
    area: str


PALETTE: dict[Role, Ink] = {
    "": Ink("#222222", "#a9bac8"),
    "strong": Ink("#000000", "#4f6679"),
    "dim": Ink("#595959", "#d2d2d2"),
    "struck": Ink("#595959", "#e4e4e4"),
    "caution": Ink("#222222", "#c9c9c9"),
    "watch": Ink("#6b4700", "#e3bd62"),
    "call": Ink("#8f3500", "#d9803f"),
    "go": Ink("#8a0000", "#a62222"),
    "good": Ink("#1b5427", "#93bf9d"),
}

_FONT = "'DejaVu Sans Condensed', 'Liberation Sans', Arial, Helvetica, sans-serif"


def svg(picture: Picture, title: str, name: str) -> Markup:
    """The element, read out as its title and what it tells. ``name`` is unique on the page."""
    size = f"{_number(picture.width)} {_number(picture.height)}"
    return Markup(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}" role="img" '
        'aria-labelledby="{name}-title {name}-told" font-family="{font}">'
        '<title id="{name}-title">{title}</title><desc id="{name}-told">{told}</desc>'
        "{shapes}</svg>"
    ).format(
        size=size,
        name=name,
        font=_FONT,
        title=clean(title),
        told=clean(picture.told),
        shapes=Markup("").join(_shape(shape) for shape in picture.shapes),
    )


def _shape(shape: Shape) -> Markup:
    match shape:
        case Stroke():
            return _stroke(shape)
        case Box():
            return _element(
                "rect",
                (("x", shape.x), ("y", shape.y), ("width", shape.width), ("height", shape.height)),
                ("fill", PALETTE[shape.role].area),
            )
        case Dot():
            return _element(
                "circle",
                (("cx", shape.x), ("cy", shape.y), ("r", shape.radius)),
                ("fill", PALETTE[shape.role].line),
            )
        case Label():
            return _label(shape)


def _stroke(stroke: Stroke) -> Markup:
    points = " ".join(f"{_number(x)},{_number(y)}" for x, y in stroke.points)
    return Markup(
        '<polyline points="{points}" fill="none" stroke="{ink}" stroke-width="{width}"{dashes}/>'
    ).format(
        points=points,
        ink=PALETTE[stroke.role].line,
        width=_number(stroke.width),
        dashes=Markup(' stroke-dasharray="3 2"') if stroke.dashed else "",
    )


def _label(label: Label) -> Markup:
    """Words. People's own are isolated, so that a name read from the right turns nothing round."""
    weight = Markup(' font-weight="bold"') if label.role in {"strong", "call", "go"} else ""
    return Markup(
        '<text x="{x}" y="{y}" font-size="{size}" text-anchor="{anchor}" fill="{ink}"{weight} '
        'unicode-bidi="isolate">{text}</text>'
    ).format(
        x=_number(label.x),
        y=_number(label.y),
        size=_number(label.size),
        anchor=label.anchor,
        ink=PALETTE[label.role].line,
        weight=weight,
        text=clean(label.text),
    )


def _element(name: str, places: Sequence[tuple[str, float]], paint: tuple[str, str]) -> Markup:
    """An empty element with numbers for its places and one colour."""
    attributes = [(key, _number(value)) for key, value in places]
    said = Markup(" ").join(
        Markup('{}="{}"').format(key, value) for key, value in [*attributes, paint]
    )
    return Markup("<{} {}/>").format(Markup(name), said)  # noqa: S704 - a name of ours


def _number(value: float) -> str:
    """A number to the hundredth of a point, without needless noughts."""
    return f"{value:.2f}".rstrip("0").rstrip(".")
