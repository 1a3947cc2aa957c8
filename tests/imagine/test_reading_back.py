"""A printed night reads back as exactly the entries it was printed from."""

from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.imagine import SIZES, TROUBLES, Imagined, imagine
from boxlamp.imagine.heading import FIRST, is_ours
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
    assert is_ours(text.encode())
    assert "#@" not in text
    assert "#=" not in text
    assert max(map(len, text.splitlines())) <= 200
    assert read_night(text).header["lesson"]


@settings(max_examples=25, deadline=None)
@given(nights)
def test_written_by_the_language_itself(night: Imagined) -> None:
    """What the language writes of the entries reads back as the same, too."""
    assert read_night(write_night(night.entries)).entries == night.entries


def test_a_hand_written_night_is_not_ours() -> None:
    """A night that a person began with the same first line is not taken for a printed one."""
    assert not is_ours(f"{FIRST} No dog in it is real.\n# Something else.\ndam: Fern\n".encode())
