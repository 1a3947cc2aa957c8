"""What became of each line, beside it on the board."""

from datetime import UTC

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Note, Strike, What
from boxlamp.view.board import as_typed, entry_lines
from support.made import at, told


def remarks(*lines: What) -> list[str]:
    """The remark beside each line of a record, typed a minute after one another."""
    entries: tuple[Entry, ...] = told(*enumerate(lines))
    return [line.remark for line in entry_lines(as_typed(entries), at(60), UTC, latest=20)]


def test_an_amended_line_says_so() -> None:
    """And one whose amend was struck says nothing any more."""
    one, two = Note(words="one"), Note(words="two")
    assert remarks(one, Amend(target=1, what=two)) == ["amended", ""]
    assert remarks(one, Amend(target=1, what=two), Strike(target=2)) == ["", "struck", ""]


def test_a_line_amended_by_way_of_a_struck_amend_says_so() -> None:
    """An amend of an amend changes the line that both are about, though the first was struck."""
    one, two, three = (Note(words=words) for words in ("one", "two", "three"))
    lines = (one, Amend(target=1, what=two), Amend(target=2, what=three), Strike(target=2))
    assert remarks(*lines) == ["amended", "struck", "", ""]
