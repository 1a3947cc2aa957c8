"""Two things in one line of her, or of a birth: each is read by itself, or the line as it was."""

import pytest

from boxlamp.language import NotUnderstood, say
from boxlamp.language.several import heard
from boxlamp.language.text import MAX_LINE
from support.heard import box

OUT = "02:00 pup dog red"


def said(line: str, *before: str) -> list[str]:
    """The entries of a line in the words of the log."""
    return [say(one.draft.what) for one in heard(line, box(*before))]


def refused(line: str, *before: str) -> NotUnderstood:
    with pytest.raises(NotUnderstood) as found:
        heard(line, box(*before))
    return found.value


def test_both_things_of_her_are_entries() -> None:
    """And both of a pup with its afterbirth."""
    assert said("waters broke and shes pushing") == ["waters", "contraction"]
    assert said("pup girl and afterbirth", OUT) == ["pup 2 bitch", "afterbirth"]


@pytest.mark.parametrize("line", ["pup girl 300g and wobbles", "pup girl 300g and rest"])
def test_what_is_no_second_thing_of_a_birth_stays_in_it(line: str) -> None:
    """It is asked about, as any mark that nobody else wanted."""
    [one] = heard(line, box(OUT))
    assert [doubt.code for doubt in one.doubts] == ["mark"]


def test_a_line_that_is_too_long_is_refused_as_that() -> None:
    """However many things it tells."""
    line = "waters broke and shes pushing " * (MAX_LINE // 10)
    assert str(MAX_LINE) in refused(line).why


def test_who_is_lost_where_nobody_is() -> None:
    """There is no pup that could have died, and none is offered."""
    assert "died" not in refused("lost a pup").nearest


@pytest.mark.parametrize("line", ["2 pups limp today", "2 very pups"])
def test_how_many_pups_with_other_words_is_left_to_the_usual_answer(line: str) -> None:
    """Which pups is asked only where every word says how they are."""
    assert not refused(line, OUT, "02:20 pup").why.startswith("Which pups")


def test_nothing_is_offered_for_a_pup_that_nobody_named() -> None:
    """Of two pups one weight is wrong for one of them; of none there is no nose."""
    both = refused("red and blue were 310g not 300", OUT, "02:20 pup blue")
    assert not both.nearest.startswith("weigh")
    assert "milk-at-nose" not in refused("blue has milk coming out of his nose").nearest


@pytest.mark.parametrize("line", ["pup girl 300g and vet called", "pup girl 300g, vet called"])
def test_a_call_to_the_vet_is_no_mark_of_a_pup(line: str) -> None:
    """The birth is asked about, with the line for the call."""
    [one] = heard(line, box(OUT))

    assert say(one.draft.what) == "pup 2 bitch 300g"
    assert [(doubt.code, "vet called" in doubt.fix) for doubt in one.doubts] == [("several", True)]


def test_what_calls_a_pup_something_names_it() -> None:
    """``called`` with a name behind it is a mark; with none it names nobody."""
    [one] = heard("pup girl called Luna", box(OUT))
    assert say(one.draft.what) == "pup 2 bitch mark Luna"
    assert not one.doubts
