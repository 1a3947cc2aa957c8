"""A line that speaks of several pups is a line for each; one that has a meaning keeps it."""

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.language import Context, NotUnderstood, line, say
from boxlamp.language.several import apart, heard, listed
from boxlamp.language.text import MAX_LINE
from support.heard import box

THREE = ("02:00 pup dog 300g", "02:20 pup bitch 310g red", "02:40 pup dog 320g blue collar")


def said(line: str, *before: str) -> list[str]:
    """What a line is taken to say, in the words of the log."""
    return [say(one.draft.what) for one in heard(line, box(*(before or THREE)))]


@pytest.mark.parametrize(
    ("line", "means"),
    [
        ("milk all", ["milk 1", "milk 2", "milk 3"]),
        ("all suckling", ["milk 1", "milk 2", "milk 3"]),
        ("everyone is drinking", ["milk 1", "milk 2", "milk 3"]),
        ("all three pups are suckling", ["milk 1", "milk 2", "milk 3"]),
        ("all of them suckled", ["milk 1", "milk 2", "milk 3"]),
        ("the pups are all drinking", ["milk 1", "milk 2", "milk 3"]),
        ("milk 1 2", ["milk 1", "milk 2"]),
        ("milk 1,2,3", ["milk 1", "milk 2", "milk 3"]),
        ("cord 1-3 tied", ["cord 1 tied", "cord 2 tied", "cord 3 tied"]),
        ("milk red and blue", ["milk 2", "milk 3"]),
        ("red and blue collar are drinking", ["milk 2", "milk 3"]),
        ("1 and 2 suckling", ["milk 1", "milk 2"]),
        ("pups one and two milk", ["milk 1", "milk 2"]),
        ("puppies 1 & 3 drinking", ["milk 1", "milk 3"]),
        ("at the teat 1 and 2", ["to-teat 1", "to-teat 2"]),
        ("1 2 limp", ["state 1 limp", "state 2 limp"]),
        ("1 and 3 are boys", ["sex 1 dog", "sex 3 dog"]),
        ("feed 1 and 2 3ml bottle", ["feed 1 3ml bottle", "feed 2 3ml bottle"]),
        ("milk 3 1 3", ["milk 3", "milk 1"]),
        ("1 and 3 dead", ["died 1", "died 3"]),
        ("1 limp, 3 limp", ["state 1 limp", "state 3 limp"]),
        ("1 limp and blue collar weak", ["state 1 limp", "state 3 weak"]),
        ("red 310g, blue 305g and 1 290g", ["weigh 2 310g", "weigh 3 305g", "weigh 1 290g"]),
        ("milk 1, cord 2 tied", ["milk 1", "cord 2 tied"]),
        ("1 and 2 limp, 3 ok", ["state 1 limp", "state 2 limp", "state 3 well"]),
        ("3 ok, 1 and 2 limp", ["state 3 well", "state 1 limp", "state 2 limp"]),
        ("1 and 3 fine, 2 weak", ["state 1 well", "state 3 well", "state 2 weak"]),
        ("1 and 3 fine and 2 weak", ["state 1 well", "state 3 well", "state 2 weak"]),
        ("1 and 3 are fine, 2 is limp", ["state 1 well", "state 3 well", "state 2 limp"]),
        ("red limp, 1 and blue dead", ["state 2 limp", "died 1", "died 3"]),
        ("02:50 1 and 2 limp, 3 ok; Jo", ["state 1 limp", "state 2 limp", "state 3 well"]),
        ("strike 2 wrong, strike 4 wrong too", ["strike 2 wrong", "strike 4 wrong too"]),
    ],
)
def test_a_line_about_several_pups(line: str, means: list[str]) -> None:
    """Each pup named gets what is said of them all, once, in the order of the line."""
    assert said(line) == means


@pytest.mark.parametrize(
    ("line", "means"), [("milk 2", "milk 2"), ("red limp", "state 2 limp"), ("push", "contraction")]
)
def test_a_line_about_one(line: str, means: str) -> None:
    """What has a meaning of its own is read as it always was, and nothing is asked."""
    (one,) = heard(line, box(*THREE))

    assert say(one.draft.what).startswith(means)
    assert one.doubts == ()


@pytest.mark.parametrize("line", ["05:10 milk all; well", "milk all at 05:10; well"])
def test_the_time_and_the_note_are_true_of_each(line: str) -> None:
    """They stand once in the line and are kept with every pup."""
    each = [one.draft for one in heard(line, box(*THREE))]

    assert len(each) == len(THREE)
    assert {(f"{draft.at:%M}", draft.note) for draft in each} == {("10", "well")}


def test_who_has_died_or_left_is_not_spoken_of() -> None:
    """*All* are those that are here; *both* are all when two are here."""
    gone = (*THREE, "03:00 died 1")

    assert said("milk all", *gone) == said("milk both", *gone) == ["milk 2", "milk 3"]


def test_all_are_those_that_were_born_by_then() -> None:
    """Who names a pup that was born later is asked; who says *all* did not mean it."""
    assert said("02:30 milk all") == ["milk 1", "milk 2"]
    assert said("02:40 milk all") == ["milk 1", "milk 2", "milk 3"]
    assert said("02:38 milk all") == ["milk 1", "milk 2"]
    asked = heard("02:30 milk 1 3", box(*THREE))
    assert [[doubt.code for doubt in one.doubts] for one in asked] == [[], ["unborn"]]
    assert said("01:00 milk all") == ["milk 1", "milk 2", "milk 3"]


@pytest.mark.parametrize(
    "line",
    [
        "milk both", "milk 1 9", "milk 1-9", "weigh 1 2", "all dead", "mark 1 2",
        "afterbirth 1 2", "1 2 3", "all", "1 2 whatever", "milk 3-1",
    ],
)  # fmt: skip
def test_what_is_true_of_one_pup_only_is_not_told_apart(line: str) -> None:
    """A weight, an afterbirth, a death is one pup's; who is not there cannot be meant."""
    assert apart(line, box(*THREE)) == ()


@pytest.mark.parametrize(
    "line",
    [" , ", ", and", "1 limp, 1 weak", "1 and 2 limp, 2 ok", "all fine, 2 limp", "1 and 2 limp, 3",
     "1 limp and 2", "1 and 2, 3", "1 and 2 limp, 9 ok", "1 and 2 limp, 3 warm", "1 alive, 2 dead",
     "1 limp, push", "1 limp, nonsense", "push, rest", "temp 38, weigh 1 300g",
     "strike 2, strike 2", "1 limp, " + "x" * MAX_LINE],
)  # fmt: skip
def test_what_stands_side_by_side_is_each_of_another_pup(line: str) -> None:
    """Anything else in one line is not guessed at."""
    assert listed(line, box(*THREE)) == ()


def test_a_reason_is_not_another_line() -> None:
    """What follows a strike's number is why, also with a comma in it."""
    assert said("strike 2 typed twice, and wrong") == ["strike 2 typed twice, and wrong"]


def test_without_pups_nothing_is_told_apart() -> None:
    """There is nobody to speak of; one pup alone is all there are."""
    assert apart("milk all", box()) == ()
    assert apart("milk all", box("02:00 pup")) == ("milk 1",)
    assert apart("milk all " + "x" * MAX_LINE, box(*THREE)) == ()
    with pytest.raises(NotUnderstood, match="No pup has been written down yet"):
        said("milk all", "01:00 push")


def test_a_mark_that_is_a_sign_is_asked_about() -> None:
    """``red and blue limp``: one limp pup that is blue, or two limp pups? Neither is guessed."""
    colours = (*THREE[:2], "02:40 pup dog 320g blue")
    (one,) = heard("red and blue limp", box(*colours))

    assert say(one.draft.what) == "state 2 blue limp"
    assert [(doubt.code, doubt.fix) for doubt in one.doubts] == [
        ("several", "2 limp, 3 limp"),
    ]


@given(st.text(max_size=40))
def test_no_line_breaks_it(line: str) -> None:
    """Whatever is typed: lines that can be read, or nothing."""
    context = box(*THREE)
    for each in apart(line, context):
        assert heard(each, context)


@pytest.mark.parametrize("mark", ["both", "all", "everyone", "1-2", "1,2", "12", "#3", "p3"])
def test_what_names_several_or_another_is_no_mark(mark: str) -> None:
    """A pup marked so could not be told from those that the line means."""
    with pytest.raises(NotUnderstood):
        heard(f"mark 2 {mark}", box(*THREE))


COLOURS = ("02:00 pup dog 300g red", "02:20 pup bitch 310g blue", "02:40 pup dog 320g green")


@pytest.mark.parametrize(
    ("line", "means"),
    [
        ("red ok, blue limp", ["state 1 well", "state 2 limp"]),
        ("red limp, blue ok", ["state 1 limp", "state 2 well"]),
        ("red limp and blue fine", ["state 1 limp", "state 2 well"]),
        ("green limp, blue ok", ["state 3 limp", "state 2 well"]),
        ("red fine blue limp", ["state 1 well", "state 2 limp"]),
        ("1 limp blue ok", ["state 1 limp", "state 2 well"]),
        ("red limp, blue limp", ["state 1 limp", "state 2 limp"]),
        ("limp red, limp blue", ["state 1 limp", "state 2 limp"]),
        ("pup red ok, pup blue limp", ["state 1 well", "state 2 limp"]),
        ("red ok, blue limp, green cold", ["state 1 well", "state 2 limp", "state 3 cold"]),
        ("red dead, blue ok", ["died 1", "state 2 well"]),
        ("red dead blue ok", ["died 1", "state 2 well"]),
        ("died 1, died 2", ["died 1", "died 2"]),
        ("died 1 died 2", ["died 1", "died 2"]),
        ("died 1 and 2", ["died 1", "died 2"]),
        ("died 1, 2 and 3", ["died 1", "died 2", "died 3"]),
        ("1 and 2 died, 3 ok", ["died 1", "died 2", "state 3 well"]),
        ("died 1, green limp", ["died 1", "state 3 limp"]),
    ],
)
def test_the_mark_of_another_pup_begins_what_is_said_of_that_pup(
    line: str, means: list[str]
) -> None:
    """What cannot be true of one pup is told of each, and nothing is asked."""
    each = heard(line, box(*COLOURS))

    assert [say(one.draft.what) for one in each] == means
    assert [one.doubts for one in each] == [()] * len(means)


@pytest.mark.parametrize(
    ("line", "read", "fix"),
    [
        ("red limp, blue cold", "state 1 limp blue cold", "state 1 limp, state 2 cold"),
        ("limp red, cold and blue", "state 1 limp cold blue", "state 1 limp, state 2 cold"),
        ("red dead, blue limp", "died 1 blue limp", "died 1, state 2 limp"),
        ("died 1 and blue", "died 1 and blue", "died 1, died 2"),
        (
            "died 1 and 2 found cold",
            "died 1 and 2 found cold",
            "died 1, died 2 or state 2 ...",
        ),
        ("died 1, 3 still weak", "died 1 3 still weak", "died 1, died 3 or state 3 ..."),
        ("1 dead and 2 alive", "died 1 and 2 alive", "died 1, breathing 2"),
    ],
)
def test_what_may_be_of_one_pup_or_of_two_is_asked(line: str, read: str, fix: str) -> None:
    """With the lines for each pup."""
    (one,) = heard(line, box(*COLOURS))

    assert say(one.draft.what) == read
    assert [(doubt.code, doubt.fix) for doubt in one.doubts] == [("several", fix)]


@pytest.mark.parametrize(
    ("line", "means"),
    [
        ("1 limp blue", "state 1 limp blue"),
        ("1 limp, blue", "state 1 limp blue"),
        ("died 1 found cold and blue", "died 1 found cold and blue"),
        ("died 1 red was found cold", "died 1 red was found cold"),
        ("died 1 blue and cold", "died 1 blue and cold"),
        ("died red under blue towel", "died 1 under blue towel"),
        ("died 1 2 days old", "died 1 2 days old"),
        ("died 1, 2 h after birth", "died 1 2 h after birth"),
        ("died 1 and 2 hours later still cold", "died 1 and 2 hours later still cold"),
        ("died 1 because 2 lay on it", "died 1 because 2 lay on it"),
        ("1 died, limp since birth", "died 1 limp since birth"),
    ],
)
def test_a_sign_and_a_reason_stay_what_they_are(line: str, means: str) -> None:
    """A colour behind a sign is a sign, and not every number in a reason is a pup."""
    (one,) = heard(line, box(*COLOURS))

    assert (say(one.draft.what), one.doubts) == (means, ())


def test_what_is_asked_of_a_part_is_asked_in_a_longer_line() -> None:
    """The question is not lost when something else is said beside it."""
    pair, other = heard("red and blue limp, green ok", box(*COLOURS))

    assert [doubt.fix for doubt in pair.doubts] == ["1 limp, 2 limp"]
    assert (say(other.draft.what), other.doubts) == ("state 3 well", ())


@pytest.mark.parametrize(
    ("line", "minutes"),
    [
        ("1 limp, 2 limp 10 min ago", [20, 20]),
        ("1 and 2 limp, 3 ok 10 min ago", [20, 20, 20]),
        ("1 limp and 2 weak at 05:10", [10, 10]),
        ("died 1, died 2 10 min ago", [20, 20]),
        ("red ok, blue limp 10 min ago", [20, 20]),
        ("1 ok 5 min ago, 2 limp 10 min ago", [25, 20]),
        ("1 limp 5 min ago, 2 limp", [25, 30]),
        ("05:10 1 limp, 2 limp", [10, 10]),
    ],
)
def test_a_time_behind_the_last_holds_for_all(line: str, minutes: list[int]) -> None:
    """Where a part has a time of its own, each keeps its own."""
    assert [one.draft.at.minute for one in heard(line, box(*COLOURS))] == minutes


@pytest.mark.parametrize(
    "part", ["1 and 2 limp, ", "1 and 2 limp ", "red ok blue limp ", "red and ", "1 ", "all ",
             "red limp, blue cold, ", "died 1, 2 limp, "],
)  # fmt: skip
@pytest.mark.parametrize("length", [300, 600, MAX_LINE])
def test_no_line_is_tried_often(part: str, length: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is longer than any line about several pups is read as it stands, or not at all."""
    tries, context = 0, box(*COLOURS)
    understood = line.understand

    def counted(text: str, context: Context) -> line.Reading:
        nonlocal tries
        tries += 1
        return understood(text, context)

    monkeypatch.setattr(line, "understand", counted)
    with contextlib.suppress(NotUnderstood):
        heard((part * length)[:length], context)

    assert tries < 100


@pytest.mark.parametrize(
    "told",
    ["2 breathing, limp", "2 limp, breathing", "weigh 2 300g, not breathing", "2 milk and limp",
     "blue fine and limp"],
)  # fmt: skip
def test_what_names_no_pup_is_not_said_of_the_newest(told: str) -> None:
    """In a line about one that is named, a danger of another would start, or end, a wrong clock."""
    context = box(*COLOURS)
    try:
        pups = {getattr(one.draft.what, "pup", None) for one in heard(told, context)}
    except NotUnderstood:
        return
    assert pups == {2}
