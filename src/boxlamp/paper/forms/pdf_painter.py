"""Pictures painted into a printed page, in greys that a photocopier keeps apart."""

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from boxlamp.paper.document import Role
from boxlamp.paper.forms.pdf_text import DIM, Typesetter, width_of, write
from boxlamp.paper.forms.shapes import Box, Dot, Label, Picture, Shape, Stroke

_BAR_GREYS: dict[Role, float] = {"watch": 0.45, "call": 0.25, "go": 0.0}
_USUAL_BAR = 0.7


class Painting(Flowable):
    """A picture as a part of a page; one that is too high for a page is drawn smaller."""

    def __init__(self, picture: Picture, page: float, setter: Typesetter) -> None:
        super().__init__()
        self._shapes = tuple(
            shape._replace(text=setter.text(shape.text)) if isinstance(shape, Label) else shape
            for shape in picture.shapes
        )
        self._tall = picture.height
        self._scale = min(1.0, page / picture.height)
        self.width, self.height = picture.width * self._scale, picture.height * self._scale

    @property
    def beginning(self) -> float:
        """A picture is never parted: the least room is all of it."""
        return self.height

    def wrap(self, availWidth: float, availHeight: float) -> tuple[float, float]:  # noqa: N803, ARG002 - named by the library
        """The size, which was settled when it was made."""
        return self.width, self.height

    def draw(self) -> None:
        """Paint every shape; the picture counts downwards and the page upwards."""
        canvas: Canvas = self.canv
        canvas.saveState()
        canvas.scale(self._scale, self._scale)
        for shape in self._shapes:
            self._paint(canvas, shape)
        canvas.restoreState()

    def _paint(self, canvas: Canvas, shape: Shape) -> None:
        match shape:
            case Stroke(points=points, role=role, width=width, dashed=dashed):
                canvas.setStrokeGray(DIM if role == "dim" else 0)
                canvas.setLineWidth(width)
                canvas.setDash([2.5, 2] if dashed else [])
                path = canvas.beginPath()
                path.moveTo(points[0][0], self._tall - points[0][1])
                for x, y in points[1:]:
                    path.lineTo(x, self._tall - y)
                canvas.drawPath(path, stroke=1, fill=0)
                canvas.setDash([])
            case Box(x=x, y=y, width=width, height=height, role=role):
                canvas.setFillGray(_BAR_GREYS.get(role, _USUAL_BAR))
                canvas.rect(x, self._tall - y - height, width, height, stroke=0, fill=1)
            case Dot(x=x, y=y, radius=radius):
                canvas.setFillGray(0)
                canvas.circle(x, self._tall - y, radius, stroke=0, fill=1)
            case Label(x=x, y=y, text=text, size=size, anchor=anchor, role=role):
                long = width_of(text, role, size)
                left = x - {"start": 0.0, "middle": long / 2, "end": long}[anchor]
                write(canvas, (left, self._tall - y), text, size, role)
