"""The call sheet turned up in place of the board, and how far it is scrolled."""

from boxlamp.paper.call_sheet.facts import CallSheet
from boxlamp.paper.call_sheet.lines import all_lines, furthest, window
from boxlamp.view.layout import Line


class TurnedUp:
    """Whether the sheet is shown, since when, and the first line of it that is seen."""

    def __init__(self) -> None:
        self.shown = False
        self._since = 0.0
        self._first = 0

    def turn(self, moment: float) -> None:
        """Show the sheet from its top, or the board again; ``moment`` is on the steady clock."""
        self.shown, self._first, self._since = not self.shown, 0, moment

    def down(self) -> None:
        """Show the board again."""
        self.shown = False

    def to_top(self) -> None:
        """Begin at the first line: what is new stands there."""
        self._first = 0

    def scroll(self, lines: int) -> None:
        """Show other lines; no further than there are any when it is drawn."""
        self._first = max(0, self._first + lines)

    def older_than(self, moment: float) -> bool:
        """Whether something said at this moment was said while the sheet was shown."""
        return moment > self._since

    def lines(self, sheet: CallSheet, width: int, room: int) -> list[Line]:
        """As much of the sheet as there is room for, from the line scrolled to."""
        every = all_lines(sheet, width, room)
        self._first = min(self._first, furthest(len(every), room))
        return window(every, width, room, self._first)
