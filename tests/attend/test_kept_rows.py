"""A window that keeps its lines shows what the usual window would, whatever it showed before."""

from hypothesis import given, settings
from hypothesis import strategies as st
from prompt_toolkit.formatted_text import StyleAndTextTuples
from prompt_toolkit.layout import FormattedTextControl, Window
from prompt_toolkit.layout.mouse_handlers import MouseHandlers
from prompt_toolkit.layout.screen import Screen, WritePosition

from boxlamp.attend.kept_rows import KeptRows

Cells = dict[tuple[int, int], tuple[str, str]]

# Plain, wide, joined to the one before, and such as could move a cursor.
_TEXT = st.text("ab \n子\u0301\x1b\x07\r\t\u202e\u200d", max_size=12)
_FRAGMENT = st.tuples(st.sampled_from(["", "class:do", "class:go"]), _TEXT)
_BOARDS = st.lists(st.lists(_FRAGMENT, max_size=5), min_size=1, max_size=4)


def _drawn(window: Window, place: WritePosition) -> tuple[Cells, int]:
    screen = Screen()
    window.write_to_screen(screen, MouseHandlers(), place, "", erase_bg=False, z_index=None)
    # The usual window marks its last line and fills it up with nothing; no style asks for that.
    cells = {
        (y, x): (cell.char, style)
        for y, row in screen.data_buffer.items()
        for x, cell in row.items()
        if "[transparent]" not in (style := cell.style.replace(" class:last-line", ""))
    }
    return cells, screen.height


@settings(deadline=None, max_examples=50)
@given(_BOARDS, st.integers(1, 9), st.integers(1, 4))
def test_one_board_after_another_is_drawn_as_if_it_were_the_first(
    boards: list[StyleAndTextTuples], width: int, height: int
) -> None:
    """Every board is shown cell for cell as the usual window shows it; nothing old stays."""
    now: list[StyleAndTextTuples] = []
    kept = KeptRows(lambda: now[-1])
    place = WritePosition(xpos=0, ypos=1, width=width, height=height)

    for board in boards:
        now.append(board)
        usual = Window(FormattedTextControl(board), wrap_lines=False)
        assert _drawn(kept, place) == _drawn(usual, place)


def test_a_line_that_was_drawn_is_not_drawn_again() -> None:
    """Of two boards that share a line, that line is the same row of cells."""
    now: list[StyleAndTextTuples] = [[("", "21:00:01\n"), ("class:do", "ring")]]
    kept = KeptRows(lambda: now[-1])
    place = WritePosition(xpos=0, ypos=0, width=20, height=5)
    _drawn(kept, place)
    (*_, before) = kept._rows.values()

    now.append([("", "21:00:02\n"), ("class:do", "ring")])
    _drawn(kept, place)

    (*_, after) = kept._rows.values()
    assert after is before
