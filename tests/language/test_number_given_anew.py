"""A pup number given anew: the birth that had it before comes back only as a line of its own."""

from datetime import timedelta

import pytest

from boxlamp.language import Context, NotUnderstood, read_line
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Strike
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from support.happenings import NOW


def typed(*lines: str) -> list[Entry]:
    """A record of these lines, typed a minute after one another."""
    entries: list[Entry] = []
    for number, line in enumerate(lines, start=1):
        now = NOW + timedelta(minutes=number)
        draft = read_line(line, Context.of(entries, now, "Europe/Prague")).draft
        entries.append(draft.numbered(number, "ash", now))
    return entries


@pytest.mark.parametrize(
    "lines",
    [
        ("pup dog", "pup bitch 300g", "strike 2", "pup dog red", "strike 3"),
        ("pup dog", "pup bitch 300g", "amend 2 rest", "pup dog red", "strike 3"),
        ("pup dog", "pup bitch 300g", "strike 2", "pup dog red", "strike 4", "strike 3",
         "strike 5"),
    ],
)  # fmt: skip
def test_a_birth_does_not_come_back_to_a_number_that_is_taken(lines: tuple[str, ...]) -> None:
    """One of the two pups would be missing from every count, and nobody would notice."""
    with pytest.raises(NotUnderstood, match="Write it down anew") as refused:
        typed(*lines)
    again = typed(*lines[:-1], refused.value.nearest)

    assert fold(Story(again)).born == 3


def test_a_birth_comes_back_to_a_number_that_is_free() -> None:
    """An undo can be undone while nobody else has the number."""
    entries = typed("pup dog", "pup bitch", "strike 2", "rest", "strike 3")

    assert entries[-1].what == Strike(target=3)
    assert fold(Story(entries)).born == 2


def test_a_record_that_has_a_number_twice_can_be_corrected() -> None:
    """What was written down before it was refused stands in no correction's way."""
    two = Birth(pup=1)
    entries = typed("pup dog", "amend 1 300g", "rest")
    entries[2] = entries[2].model_copy(update={"what": two})
    draft = read_line("strike 2", Context.of(entries, NOW + timedelta(hours=1))).draft

    assert draft.what == Strike(target=2)
