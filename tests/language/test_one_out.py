"""What is said of a pup that is out is its state, and no birth; a birth stays one."""

from datetime import timedelta
from decimal import Decimal

import pytest

from boxlamp.language import Context, Doubt, Heard, NotUnderstood, if_meant, read_line
from boxlamp.language.uncounted import uncounted
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Birth, Death, PupState, What
from boxlamp.model.seen import BirthState, PupSign
from support.happenings import NOW

HOUR = timedelta(hours=1)
BOY = Birth(pup=1, sex="dog")
RED, WHITE = (
    Birth(pup=1, sex="dog", mark="red"),
    Birth(pup=2, sex="bitch", mark="white paw"),
)


def box(*pups: What, last: timedelta = 2 * HOUR) -> Context:
    """02:14:05 in Prague; these an hour apart, the last of them so long ago."""
    first = NOW - last - HOUR * (len(pups) - 1)
    return Context.of(
        [
            Draft(at=first + HOUR * place, what=what).numbered(place + 1, "night", NOW)
            for place, what in enumerate(pups)
        ],
        NOW,
        "Europe/Prague",
    )


def heard(line: str, *pups: What) -> Heard:
    return read_line(line, box(*pups))


def refused(line: str, *pups: What) -> NotUnderstood:
    with pytest.raises(NotUnderstood) as found:
        heard(line, *pups)
    return found.value


@pytest.mark.parametrize(
    ("line", "sign", "another"),
    [
        ("the boy is limp", "limp", "`pup 2 dog limp`"),
        ("the boy limp", "limp", "`pup 2 dog limp`"),
        ("pup is limp", "limp", "`pup 2 limp`"),
        ("pup's limp", "limp", "`pup 2 limp`"),
        ("boy's limp", "limp", "`pup 2 dog limp`"),
        ("pup red is limp", "limp", "`pup 2 red limp`"),
        ("pup with white paw is limp", "limp", "`pup 2 white paw limp`"),
        ("pup white isnt breathing", "not-breathing", "`pup 2 white limp`"),
        ("boy isn't breathing", "not-breathing", "`pup 2 dog limp`"),
        ("the boy has stopped breathing", "not-breathing",
         "`pup 2 dog` and `state 2 not-breathing`"),
        ("02:10 the boy is limp", "limp", "`02:10 pup 2 dog limp`"),
        ("the boy is limp 10 min ago", "limp", "`10 min ago pup 2 dog limp`"),
        ("the boy is gasping", "gasping", "`pup 2 dog` and `state 2 gasping`"),
        ("the boy is blue", "blue", "`pup 2 dog` and `state 2 blue`"),
        ("the boy is cold", "cold", "`pup 2 dog` and `state 2 cold`"),
        ("pup boy is cold", "cold", "`pup 2 dog` and `state 2 cold`"),
        ("the pup is cold", "cold", "`pup 2` and `state 2 cold`"),
        ("boy cold", "cold", "`pup 2 dog` and `state 2 cold`"),
        ("boy is very weak", "weak", "`pup 2 dog` and `state 2 weak`"),
    ],
)  # fmt: skip
def test_what_is_said_of_a_pup_that_is_out_is_its_state(
    line: str, sign: PupSign, another: str
) -> None:
    """Its clock runs, those that wait for a pup run on, and the answer says what it was read as."""
    told = heard(line, BOY)
    assert told.draft.what == PupState(pup=1, signs=(sign,))
    assert told.doubts == ()
    taken = "taken as pup 1, which is out; if another pup was born, strike this line and type: "
    assert taken + another in told.echo
    for offered in another.split("`")[1:2]:
        assert isinstance(read_line(offered, box(BOY)).draft.what, Birth)


@pytest.mark.parametrize(
    "line",
    ["pup boy limp", "limp pup", "a limp pup", "pup limp", "boy limp", "girl limp",
     "pup born limp", "new pup limp", "the new pup is limp", "another pup is limp",
     "boy is out limp", "pup came out limp", "girl born not breathing", "pup 2 limp",
     "pup 2 is limp", "pup m 300g red limp", "pup red limp", "newborn pup is limp",
     "the girl is limp", "girl isnt breathing"],
)  # fmt: skip
def test_a_limp_pup_that_is_born_stays_a_birth(line: str) -> None:
    """Without a word that speaks of one that is known, with one of birth, or where none fits."""
    told = heard(line, BOY)
    assert isinstance(told.draft.what, Birth)
    assert (told.draft.what.pup, told.draft.what.state) == (2, "limp")
    assert told.doubts == ()


@pytest.mark.parametrize("line", ["the boy is limp", "pup is limp", "pup limp", "boy is limp"])
def test_the_first_pup_of_the_night_is_born_so(line: str) -> None:
    """There is none that it could be."""
    what = heard(line).draft.what
    assert isinstance(what, Birth)
    assert (what.pup, what.state) == (1, "limp")


@pytest.mark.parametrize(
    ("line", "pup"),
    [
        ("the boy is limp", 1), ("the girl is limp", 2), ("the pup is limp", 2),
        ("girl isnt breathing", 2), ("pup white isnt breathing", 2), ("the red boy is limp", 1),
        ("pup 1 boy limp", 1), ("pup 2 girl isnt breathing", 2), ("pup white limp", 2),
    ],
)  # fmt: skip
def test_it_is_the_one_that_fits(line: str, pup: int) -> None:
    """By sex, mark or number; of several that fit the newest, where it must not wait."""
    what = heard(line, RED, WHITE).draft.what
    assert isinstance(what, PupState)
    assert what.pup == pup


def test_it_is_no_pup_that_is_dead_or_was_not_born_by_then() -> None:
    """From the second of its birth on it may be that pup."""
    dead = Birth(pup=2, sex="dog", state="dead")
    assert heard("the boy is limp", BOY, dead).draft.what == PupState(pup=1, signs=("limp",))
    born = NOW - 2 * HOUR
    for apart, wanted in ((-1, Birth(pup=2, sex="dog", state="limp")),
                          (0, PupState(pup=1, signs=("limp",)))):  # fmt: skip
        typed = f"{born + timedelta(seconds=apart):%Y-%m-%d %H:%M:%SZ} the boy is limp"
        assert heard(typed, BOY).draft.what == wanted


def test_of_several_that_fit_a_sign_that_can_wait_is_not_guessed() -> None:
    """Who is cold is told by those it may be; who is limp is not asked."""
    one = refused("the pup is cold", RED, WHITE)
    assert "Which pup? It may be 1 (red), 2 (white paw)." in one.why
    assert one.nearest == "state N cold"
    assert heard("the girl is cold", RED, WHITE).draft.what == PupState(pup=2, signs=("cold",))


def test_a_sign_that_fits_no_pup_is_told_with_both_lines() -> None:
    """No pup is made up for it, and the one who meant a birth is told how."""
    one = refused("the girl is cold", BOY)
    assert "No living pup fits that." in one.why
    assert "No pup was counted by this. If one is out, type: `pup bitch`." in one.why
    assert one.nearest == "state N cold"


@pytest.mark.parametrize("line", ["the bitch is weak", "bitch is dull", "the dog is weak"])
def test_a_word_for_the_dam_too_is_asked(line: str) -> None:
    """A bitch that is weak may be the dam; with pup it is a pup."""
    one = refused(line, WHITE.model_copy(update={"pup": 1}))
    assert "Is that the dam, or a pup?" in one.why
    assert one.nearest == "dam dull\nstate N weak"
    assert refused(line).nearest == "dam dull"
    assert isinstance(heard("bitch pup is weak", BOY.model_copy(update={"sex": None})).draft.what,
                      PupState)  # fmt: skip


@pytest.mark.parametrize("line", ["boy is cold", "pup cold", "pup 300g gasping", "boy very weak"])
def test_a_sign_is_never_offered_as_a_mark(line: str) -> None:
    """By Enter there is a birth without a mark, and the sign has its line."""
    told = heard(line)
    assert isinstance(told.draft.what, Birth)
    assert told.draft.what.mark is None
    (doubt,) = told.doubts
    assert doubt.code == "mark"
    assert "is no mark, it is how the pup is." in doubt.sentence
    assert "Then write on the next line: state 1 " in doubt.fix
    assert heard('pup mark "cold"').draft.what == Birth(pup=1, mark="cold")


@pytest.mark.parametrize(
    ("line", "wanted", "state"),
    [
        ("dead puppy", Birth(pup=2, state="dead"), "dead"),
        ("pup is dead", Birth(pup=2, state="dead"), "dead"),
        ("the boy is dead", Birth(pup=2, sex="dog", state="dead"), "dog dead"),
        ("pup died", Death(pup=1), "dead"),
        ("the boy has died", Death(pup=1), "dog dead"),
    ],
)
@pytest.mark.parametrize("ago", [timedelta(minutes=20), 5 * HOUR])
def test_a_dead_pup_that_is_not_named_is_asked_about(
    ago: timedelta, line: str, wanted: What, state: str
) -> None:
    """It was born dead or has died: both lines are there, and each is read unasked."""
    context = box(BOY, last=ago)
    told = read_line(line, context)
    assert told.draft.what == wanted
    [fix] = [doubt.fix for doubt in told.doubts if doubt.code == "another-pup"]
    assert fix == f"Pup 1 has died: `died 1`. Another, born dead: `pup 2 {state}`."
    for offered in fix.split("`")[1::2]:
        assert read_line(offered, context).doubts == ()


def test_a_lost_pup_is_not_taken_as_the_newest_unasked() -> None:
    """Of one just born it is asked; of several it is refused, with the line for one born dead."""
    context = box(BOY, last=timedelta(minutes=20))
    assert [doubt.code for doubt in read_line("lost a pup", context).doubts] == ["another-pup"]
    assert "If one was born dead: `pup 3 dead`." in refused("lost a pup", RED, WHITE).why


@pytest.mark.parametrize("line", ["a dead puppy came out", "dead puppy born", "stillborn puppy"])
def test_a_pup_that_came_dead_is_a_birth(line: str) -> None:
    """A word of birth says so."""
    assert heard(line, BOY) == heard(line, BOY)._replace(doubts=())
    assert heard(line, BOY).draft.what == Birth(pup=2, state="dead")


def test_who_is_named_has_died_unasked() -> None:
    """By number or by mark."""
    for line in ("died 1", "dead red", "pup 1 died", "red died"):
        told = heard(line, RED, WHITE)
        assert (told.draft.what, told.doubts) == (Death(pup=1), ())


@pytest.mark.parametrize(
    ("line", "second"),
    [
        ("pup m 300g red; pup f 280g blue", "pup f 280g blue"),
        ("girl 210g blue; and a boy 250g green", "pup boy 250g green"),
        ("pup m limp; another pup", "another pup"),
        ("pup m; then one girl", ""),
        ("pup m 300g; girl at last", ""),
        ("pup m 300g; pup is crying loudly", ""),
        ("pup m 300g; all well", ""),
    ],
)
def test_a_second_pup_behind_a_note_is_said_not_to_be_counted(line: str, second: str) -> None:
    """Nothing behind ; is read; the line to type for it is in the answer."""
    told = heard(line, BOY)
    assert isinstance(told.draft.what, Birth)
    said = f"a second pup behind ; is NOT counted: type it on a line of its own: `{second}`"
    assert (said in told.echo) == bool(second)
    assert ("NOT counted" in told.echo) == bool(second)


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("another one out girl white collar", Birth(pup=3, sex="bitch", mark="white collar")),
        ("third one born girl", Birth(pup=3, sex="bitch")),
        ("no 3 born girl", Birth(pup=3, sex="bitch")),
        ("number 3 is here", Birth(pup=3)),
        ("got a girl too", Birth(pup=3, sex="bitch")),
        ("we have a boy too, 300g", Birth(pup=3, sex="dog", weight=Decimal(300))),
        ("new girl", Birth(pup=3, sex="bitch")),
    ],
)
def test_what_surely_tells_of_one_more_is_read(line: str, wanted: Birth) -> None:
    """With a number, a sex or a word of birth."""
    told = heard(line, RED, WHITE)
    assert (told.draft.what, told.doubts) == (wanted, ())


@pytest.mark.parametrize(
    "line", ["third one just popped out", "theres a third one out", "3rd is out"]
)
def test_the_third_of_something_is_asked(line: str) -> None:
    """It may be a push or an afterbirth, as ``another one`` may."""
    told = heard(line, RED, WHITE)
    assert told.draft.what == Birth(pup=3)
    assert [doubt.code for doubt in told.doubts] == ["another-pup"]


def test_got_a_girl_may_tell_of_the_one_that_is_out() -> None:
    """As ``girl`` may."""
    assert [one.code for one in heard("got a girl", Birth(pup=1)).doubts] == ["another-pup"]


@pytest.mark.parametrize("line", ["2 boys", "2 girls", "two boys out", "2 more girls"])
def test_several_of_one_sex_each_need_a_line(line: str) -> None:
    """Each has a time of its own."""
    one = refused(line, BOY)
    assert one.why.startswith("No pup was counted by this: ")
    assert one.nearest == "HH:MM pup"


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("a little girl this time", "`pup bitch`"), ("she popped one out", "`pup`"),
        ("02:10 one out", "`02:10 pup`"), ("the last one has arrived", "`pup`"),
        ("number 2 is here", "`pup`"), ("had a boy", "`pup dog`"),
        ("its out, girl red collar", "`pup bitch`"), ("two pups came together", "`HH:MM pup`"),
        ("pups 4 and 5 are here both girls", "`HH:MM pup bitch`"),
    ],
)  # fmt: skip
def test_a_line_that_may_tell_of_a_birth_says_that_none_was_counted(line: str, typed: str) -> None:
    """Whoever typed it believes that the pup is in the record."""
    one = refused(line, RED, WHITE)
    assert "No pup was counted by this" in one.why
    assert f"type: {typed}." in one.why


@pytest.mark.parametrize(
    "line",
    ["no pup yet", "is the pup out?", "pup coming", "1 warm", "blah", "", "weigh pup",
     "feed pup", "amend 9 pup born", "the boys are limp", "where is the pup"],
)  # fmt: skip
def test_a_line_that_tells_of_no_birth_does_not_speak_of_one(line: str) -> None:
    """It would only be read instead of what helps."""
    assert "counted" not in refused(line, RED, WHITE).why


@pytest.mark.parametrize(
    ("last", "said"),
    [(24 * HOUR, True), (24 * HOUR + timedelta(seconds=1), False)],
)
def test_a_day_after_the_last_birth_nobody_is_told(last: timedelta, *, said: bool) -> None:
    """Then a line about a boy is about one that is there."""
    with pytest.raises(NotUnderstood) as found:
        read_line("a little boy", box(BOY, last=last))
    assert ("No pup was counted" in found.value.why) == said


def test_a_danger_that_may_tell_of_a_birth_says_it_too() -> None:
    """What helps first comes first."""
    told = if_meant("f 210g blue; and a boy 250g green", box(RED, WHITE))
    assert told[-1] == "No pup was counted by this. If one is out, type: `pup dog`."
    assert not any("counted" in one for one in told[:-1])


@pytest.mark.parametrize(
    ("line", "question"),
    [("girl", False), ("pup girl", False), ("girl 300g", False), ("pup blue", False),
     ("boy", True), ("pup", True), ("pup girl red", True)],
)  # fmt: skip
def test_another_sex_within_a_minute_is_another_pup(line: str, *, question: bool) -> None:
    """Unless the mark is the same: then it may be a sex that was seen wrong."""
    told = read_line(line, box(RED, last=timedelta(seconds=40)))
    assert isinstance(told.draft.what, Birth)
    asked: list[Doubt] = [doubt for doubt in told.doubts if doubt.code == "another-pup"]
    assert bool(asked) == question


def test_the_state_of_a_birth_that_is_taken_offers_its_state() -> None:
    """``pup 1 girl isnt breathing`` of a dog is refused with what counts, and not with its sex."""
    state: BirthState = "limp"
    assert refused("pup 1 girl isnt breathing", RED, WHITE).nearest == f"state 1 {state}"


@pytest.mark.parametrize(
    ("line", "typed"),
    [("another limp pup", "pup limp"), ("a pup is out, and red is limp", "pup")],
)
def test_what_may_have_been_born_limp_is_offered_so(line: str, typed: str) -> None:
    """Its clock would be lost with the word; of another pup it is not said."""
    assert f"If one is out, type: `{typed}`." in uncounted(line, box(RED))
