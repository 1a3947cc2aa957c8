"""A window whose lines are kept as they were drawn.

At every key and every second the whole screen is set anew, cell by cell, though of the board
hardly more than its clock has changed. A line that was drawn before is put there in one step.
"""

from collections.abc import Callable
from itertools import islice

from prompt_toolkit.formatted_text import StyleAndTextTuples
from prompt_toolkit.formatted_text.utils import split_lines
from prompt_toolkit.layout import Dimension, FormattedTextControl, Window
from prompt_toolkit.layout.mouse_handlers import MouseHandlers
from prompt_toolkit.layout.screen import Char, Screen, WritePosition

Row = dict[int, Char]
_Asked = tuple[int, int, str, tuple[object, ...]]
"""Where a line begins, how wide it may be, the style around it, and the line itself."""


class KeptRows(Window):
    """Shows a text from its first line on, in the room that others leave. Lines are never wrapped.

    A line that is new is drawn by the usual window, so that what is harmless there is so here.
    """

    def __init__(self, text: Callable[[], StyleAndTextTuples]) -> None:
        super().__init__(FormattedTextControl(text))
        self._text = text
        self._rows: dict[_Asked, Row] = {}

    def preferred_height(self, width: int, max_available_height: int) -> Dimension:
        """Whatever is left."""
        del width, max_available_height
        return Dimension()

    def write_to_screen(  # noqa: PLR0913, PLR0917 as every container is asked
        self,
        screen: Screen,
        mouse_handlers: MouseHandlers,
        write_position: WritePosition,
        parent_style: str,
        erase_bg: bool,  # noqa: FBT001
        z_index: int | None,
    ) -> None:
        """Put the lines there, and keep those that are shown now for the next time."""
        del mouse_handlers, erase_bg, z_index  # no mouse, and nothing lies below
        x, y, width = write_position.xpos, write_position.ypos, write_position.width
        shown: dict[_Asked, Row] = {}
        lines = islice(split_lines(self._text()), write_position.height)
        for place, line in enumerate(lines, start=y):
            asked = x, width, parent_style, tuple(line)
            row = shown[asked] = self._rows.get(asked) or _drawn(line, x, width, parent_style)
            screen.data_buffer[place].update(row)
        self._rows = shown
        screen.height = max(screen.height, y + write_position.height)
        screen.visible_windows_to_write_positions[self] = write_position


def _drawn(line: StyleAndTextTuples, x: int, width: int, style: str) -> Row:
    """One line as the usual window draws it."""
    scratch = Screen()
    window = Window(FormattedTextControl(line), wrap_lines=False)
    # The last line of a window is given a mark of its own and filled up: this is not the last.
    place = WritePosition(xpos=x, ypos=0, width=width, height=2)
    window.write_to_screen(scratch, MouseHandlers(), place, style, erase_bg=False, z_index=None)
    return scratch.data_buffer[0]
