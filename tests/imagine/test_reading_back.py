"""A printed night reads back as exactly the entries it was printed from."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.imagine import SIZES, TROUBLES, Imagined, imagine
from boxlamp.imagine.heading import AGAIN, FIRST
from boxlamp.imagine.untouched import is_untouched
from boxlamp.language import read_night, write_night
from boxlamp.model.happenings import Note

nights = st.builds(
    imagine,
    st.integers(min_value=0, max_value=2**40),
    size=st.sampled_from((None, *SIZES)),
    trouble=st.sampled_from((None, "none", *TROUBLES)),
)


@settings(max_examples=150, deadline=None)
@given(nights)
def test_reads_back(night: Imagined) -> None:
    """Every entry: its time, its words, its raw line; and no line is kept as not understood."""
    read = read_night(night.text)

    assert read.entries == night.entries
    assert not any(isinstance(one.what, Note) and one.what.unread for one in read.entries)


@settings(max_examples=50, deadline=None)
@given(nights)
def test_looks_like_a_night_that_somebody_wrote(night: Imagined) -> None:
    """Called invented at the top, with its lesson, and not one directive for machines."""
    text = night.text

    assert text.startswith(FIRST)
    assert is_untouched(text.encode())
    assert is_untouched(text.replace("\n", "\r\n").encode())
    assert "#@" not in text
    assert "#=" not in text
    assert max(map(len, text.splitlines())) <= 200
    assert read_night(text).header["lesson"]


@settings(max_examples=25, deadline=None)
@given(nights)
def test_written_by_the_language_itself(night: Imagined) -> None:
    """What the language writes of the entries reads back as the same, too."""
    assert read_night(write_night(night.entries)).entries == night.entries


@settings(max_examples=40, deadline=None)
@given(nights, st.data())
def test_a_night_that_somebody_wrote_on_is_not_ours(night: Imagined, data: st.DataObject) -> None:
    """One letter more, anywhere, and it is somebody's work that must not be lost."""
    text = night.text
    place = data.draw(st.integers(0, len(text)))

    assert not is_untouched(f"{text[:place]}x{text[place:]}".encode())
    assert not is_untouched(f"{text}02:00 rest\n".encode())


@pytest.mark.parametrize(
    "text",
    [
        f"{FIRST} No dog in it is real.\n# Something else.\ndam: Fern\n",
        f"{FIRST}\n{AGAIN}--seed 7 --size tiny --trouble none\n",
        f"{FIRST}\n{AGAIN}--seed 7 --size large --trouble moon\n",
        f"{FIRST}\n{AGAIN}--seed {'9' * 400} --size large --trouble none\n",
        f"{FIRST}\n{AGAIN}--seed 7 --size large --trouble none\ndam: Fern\n",
        "",
    ],
)
def test_a_hand_written_night_is_not_ours(text: str) -> None:
    """A night that a person began with the same lines is not taken for a printed one."""
    assert not is_untouched(text.encode())
