"""That she pushes is never lost, however it is said; nor is it, that she has stopped."""

from datetime import timedelta

import pytest

from boxlamp.language import Context, NotUnderstood, if_meant, read_line, say
from boxlamp.language.several import heard
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Birth, Treatment, What
from support.happenings import NOW

NOTHING_YET = Context.of([], NOW, "Europe/Prague")


def box(*marks: str | None) -> Context:
    """A litter with these pups, born a minute apart, the last two hours ago."""
    first = NOW - timedelta(minutes=120 + len(marks))
    drafts = (
        Draft(at=first + timedelta(minutes=place), what=Birth(pup=place, mark=mark))
        for place, mark in enumerate(marks, start=1)
    )
    return Context.of(
        [one.numbered(number, "night", NOW) for number, one in enumerate(drafts, start=1)],
        NOW,
        "Europe/Prague",
    )


def told(line: str, context: Context = NOTHING_YET) -> list[tuple[str, int]]:
    """What is written down, and how many minutes ago it was."""
    drafts = [one.draft for one in heard(line, context)]
    return [(say(draft.what), round((NOW - draft.at).total_seconds() / 60)) for draft in drafts]


def typed_for(line: str, context: Context = NOTHING_YET) -> list[str]:
    """The lines that the answer to a line that is not read says to type."""
    with pytest.raises(NotUnderstood):
        heard(line, context)
    return [sentence.rsplit("type: ", 1)[1] for sentence in if_meant(line, context)]


@pytest.mark.parametrize(
    ("line", "push", "ago"),
    [
        ("45 min ago she started pushing really hard", "contraction strong", 45),
        ("50 min ago started pushing", "contraction", 50),
        ("started pushing an hour ago", "contraction", 60),
        ("big push but nothing came", "contraction strong", 0),
        ("30 min ago big push and nothing came", "contraction strong", 30),
        ("shes straining like mad", "contraction strong", 0),
        ("she is pushing like crazy", "contraction strong", 0),
        ("really strong contractions", "contraction strong", 0),
        ("really weak contractions", "contraction weak", 0),
        ("pushing so hard", "contraction strong", 0),
        ("straing hard", "contraction strong", 0),
        ("shes pusing", "contraction", 0),
        ("she keeps straining and nothing comes", "contraction", 0),
        ("been pushing really hard for 40 min", "contraction strong", 40),
    ],
)
def test_a_push_in_ordinary_words_starts_its_clock_at_its_time(
    line: str, push: str, ago: int
) -> None:
    """Said as a frightened person says it, misspelt too."""
    assert told(line) == [(push, ago)]


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("shes pushing her nose into the towel", ["contraction"]),
        ("pushin like she means it", ["contraction"]),
        ("contrctions every 3 min", ["contraction"]),
        ("straning a bit", ["contraction"]),
        ("weak pushes i think", ["contraction weak"]),
        ("was pushing hard", ["contraction"]),
        ("45 min ago she was pushing against the wall", ["45 min ago contraction"]),
        ("started pushing 45 minutes ago, nothing since", ["45 minutes ago contraction"]),
        ("pushing for ages", ["HH:MM contraction"]),
        ("stopped pushing but started again and pushes hard", ["contraction"]),
        ("she hasnt stopped pushing", ["contraction"]),
        ("never stops straining", ["contraction"]),
        ("contractions havent gone off", ["contraction"]),
        ("pushing has not stopped", ["contraction"]),
        ("no shes pushing against the wall", ["contraction"]),
        ("hasnt had a pup and pushing an hour somehow", ["an hour ago contraction"]),
    ],
)
def test_whatever_speaks_of_a_push_and_is_not_read_says_what_to_type(
    line: str, typed: list[str]
) -> None:
    """As of a danger: it is a note only, and the time that was typed stays."""
    assert typed_for(line) == typed


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("1;30 push", "1:30 push"), ("5m push", "5m ago push"),
        ("1h30 push", "1:30 push or 1h30m ago push"),
        ("02:10 been pushing for an hour", "02:10 contraction; been pushing for an hour"),
        ("24.30 push", "HH:MM contraction"), ("2:75 push", "HH:MM contraction"),
        ("13pm push", "HH:MM contraction"), ("2026-03-01 25:10 push", "HH:MM contraction"),
        ("contractions 5 minutes apart", "contraction"),
    ],
)  # fmt: skip
def test_a_push_at_a_time_that_is_miswritten_keeps_it_or_leaves_it_open(
    line: str, typed: str
) -> None:
    """The answer to a danger never hides the line that the refusal could tell better."""
    with pytest.raises(NotUnderstood) as refused:
        heard(line, NOTHING_YET)
    told = if_meant(line, NOTHING_YET, refused.value.nearest)
    assert [one.rsplit("type: ", 1)[1] for one in told] == [typed]


@pytest.mark.parametrize(
    "line",
    [
        "not pushing", "she isnt pushing", "still not pushing much", "no contractions",
        "isnt really pushing any more", "she cant push any more",
        "contractions have gone off a bit",
    ],
)  # fmt: skip
def test_that_there_is_no_push_is_no_danger_and_offers_a_rest(line: str) -> None:
    """And never the push that was denied."""
    with pytest.raises(NotUnderstood) as refused:
        heard(line, NOTHING_YET)
    assert refused.value.nearest == "rest"
    assert if_meant(line, NOTHING_YET) == ()


@pytest.mark.parametrize(
    "line",
    ["amend 99 contraction", "strike 4 pushing wrong entry", "vet contacted", "a mark of string",
     "staining the towel", "contains nothing", "a strange string"],
)  # fmt: skip
def test_what_only_looks_like_a_push_is_none(line: str) -> None:
    """A correction, or a word that is spelt alike."""
    assert if_meant(line, NOTHING_YET) == ()


def test_a_push_is_told_beside_graver_dangers() -> None:
    """The three that are told hold it, however many others there are."""
    typed = typed_for("stuck and foul and bleeding and stiff and pushing")
    assert len(typed) == 3
    assert typed[-1] == "contraction"


@pytest.mark.parametrize(
    ("line", "lines"),
    [
        ("waters broke and shes pushing", [("waters", 0), ("contraction", 0)]),
        ("waters gone and pushing now", [("waters", 0), ("contraction", 0)]),
        ("30 min ago waters broke and pushing", [("waters", 30), ("contraction", 30)]),
        ("waters broke, pushing hard, bubble",
         [("waters", 0), ("contraction strong", 0), ("sac", 0)]),
        ("head out and pushing", [("part head", 0), ("contraction", 0)]),
    ],
)  # fmt: skip
def test_two_things_seen_of_her_are_two_entries(line: str, lines: list[tuple[str, int]]) -> None:
    """At one moment, and none of them is forgotten."""
    assert told(line) == lines


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("waters broke and pushing 30 min ago", ["30 min ago contraction", "30 min ago waters"]),
        ("waters broke 40 min ago and pushing hard since", ["HH:MM contraction", "HH:MM waters"]),
        ("waters broke and shes been pushing for an hour", ["an hour ago contraction", "waters"]),
    ],
)  # fmt: skip
def test_two_things_with_one_time_are_not_guessed_at(line: str, typed: list[str]) -> None:
    """The time may be that of one of them alone: both lines are named."""
    assert typed_for(line) == typed


def test_a_push_is_never_taken_for_the_mark_of_a_pup() -> None:
    """The birth is asked about, with the line of the push; a limp pup is taken at once."""
    [born] = heard("pup out and shes pushing again", box("red"))
    assert say(born.draft.what) == "pup 2"
    assert [doubt.code for doubt in born.doubts] == ["several"]
    assert born.doubts[0].fix == "Then type on the next line: contraction"
    [limp] = heard("pup limp and shes pushing again", box("red"))
    assert say(limp.draft.what) == "pup 2 limp"
    assert limp.doubts == ()
    assert "Then type on the next line: contraction" in limp.echo


def test_an_afterbirth_beside_a_birth_is_an_entry_of_its_own() -> None:
    """And no mark, nor anything like a stillbirth."""
    assert told("pup boy 300g and afterbirth", box("red")) == [("pup 2 dog 300g", 0),
                                                               ("afterbirth", 0)]  # fmt: skip
    assert not any(one.doubts for one in heard("pup boy 300g and afterbirth", box("red")))


@pytest.mark.parametrize(
    "line",
    ["gone quiet", "shes gone quiet", "contractions stopped", "contractions have gone off",
     "shes stopped straining", "she's given up", "shes given up", "given up", "shes gave up"],
)  # fmt: skip
def test_that_she_has_stopped_is_a_rest(line: str) -> None:
    """Said of contractions or of her."""
    assert told(line) == [("rest", 0)]


def test_given_up_is_no_treatment() -> None:
    """Nothing called "up" is ever given to her; what is given up to an amount still is."""
    with pytest.raises(NotUnderstood) as refused:
        read_line("shes given up on it", NOTHING_YET)
    assert refused.value.nearest == "rest"
    what: What = read_line("given up to a spoon of glucose", NOTHING_YET).draft.what
    assert isinstance(what, Treatment)


@pytest.mark.parametrize("line", ["hes gone quiet", "gone quiet"])
def test_a_pup_that_has_gone_quiet_ends_nothing(line: str) -> None:
    """Where there is a pup, it may be the one that is quiet."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, box("red"))
    assert "state N limp" in refused.value.why
    assert told("shes gone quiet", box("red")) == [("rest", 0)]


@pytest.mark.parametrize(
    "line", ["she just lies there", "shes fallen asleep", "she has gone to sleep"]
)
def test_who_lies_there_in_labour_may_rest_or_have_collapsed(line: str) -> None:
    """Both lines are told; pups that sleep are no danger."""
    assert typed_for(line) == ["rest", "dam collapsed"]
    assert if_meant("pups all asleep", box("red")) == ()
