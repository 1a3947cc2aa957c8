"""Corrections and ends that would change the count of pups or come too early are asked about."""

from datetime import timedelta

import pytest

from boxlamp.language import Context, Doubt, read_line, read_night
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import (
    Amend,
    Birth,
    Contraction,
    Finished,
    Note,
    Part,
    Rest,
    Sac,
    Sign,
    Temperature,
    Waters,
    What,
)
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from support.happenings import NOW
from support.nights import assessed


def entry(number: int, fact: What, ago: int) -> Entry:
    return Draft(at=NOW - timedelta(minutes=ago), what=fact).numbered(number, "night", NOW)


def box(*entries: Entry) -> Context:
    """02:14 in Prague; without entries, three pups and a restless dam."""
    usual = (
        entry(1, Contraction(), 90), entry(2, Birth(pup=1, mark="red"), 70),
        entry(3, Birth(pup=2), 30), entry(4, Birth(pup=3), 20),
        entry(5, Sign(signs=("restless",)), 10), entry(6, Note(words="blorg", unread=True), 5),
        entry(7, Note(words="calm"), 4),
    )  # fmt: skip
    return Context.of(entries or usual, NOW, "Europe/Prague")


def doubts(line: str, context: Context | None = None) -> tuple[Doubt, ...]:
    return read_line(line, context or box()).doubts


def test_making_another_entry_a_birth_is_asked_with_both_readings() -> None:
    """A mistyped number must not add a pup unasked."""
    (doubt,) = doubts("amend 5 pup dog 300g")
    assert doubt.code == "kind"
    assert doubt.sentence == "Entry 5 says: sign restless. Make it the birth of pup 4?"
    assert [one.code for one in doubts("amend 7 01:50 pup dog")] == ["kind"]


def test_making_a_birth_something_else_is_asked_with_both_readings() -> None:
    """A mistyped number must not take a pup away unasked."""
    (doubt,) = doubts("amend 3 temp 37.1")
    assert doubt.code == "no-birth"
    assert doubt.sentence.startswith("Entry 3 is the birth of pup 2. Make it: temp 37.1")


def test_what_turns_no_other_kind_into_a_birth_is_not_asked() -> None:
    """A birth put right, a line that could not be read, and other kinds go through."""
    for line in ("amend 3 pup dog 300g", "amend 6 pup dog 300g", "amend 5 rest"):
        assert doubts(line) == (), line


def test_a_confirmed_change_of_kind_comes_back_from_a_night_file() -> None:
    """In a file nobody is asked: what was confirmed once is read as it stands."""
    night = read_night("date: 2026-03-02\n\n02:00 sign restless\n02:10 amend 1 pup dog\n")
    assert night.entries[-1].what == Amend(target=1, what=Birth(pup=1, sex="dog"))


def test_a_clock_still_to_come_that_ends_it_before_the_pups_says_so() -> None:
    """The question names the births that such an end would lie before."""
    old, early = doubts("finished 02:50")
    assert (old.code, early.code) == ("old", "finished-before")
    assert early.sentence.startswith("Pups were born after that: pup 1 at 01:04:05, pup 2 at ")
    assert early.fix.endswith("finished")


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("-25m finished", "A pup was born after that: pup 3 at 01:54:05."),
        ("finished by vet 01:50", "A pup was born after that: pup 3 at 01:54:05."),
        ("amend 5 01:50 finished", "A pup was born after that: pup 3 at 01:54:05."),
        ("finished 01:40",
         "Pups were born after that: pup 2 at 01:44:05, pup 3 at 01:54:05."),
    ],
)  # fmt: skip
def test_an_end_before_a_birth_is_asked_about(line: str, said: str) -> None:
    """Whoever says it and however the time came about."""
    (doubt,) = doubts(line)
    assert doubt.code == "finished-before"
    assert doubt.sentence == said


def test_an_end_put_back_in_time_is_asked_about() -> None:
    """A new time alone can put the end before a birth, too."""
    context = box(entry(1, Birth(pup=1), 30), entry(2, Finished(), 5))
    assert [one.code for one in doubts("amend 2 01:30", context)] == ["finished-before"]
    assert doubts("amend 2 01:50", context) == ()


@pytest.mark.parametrize(
    ("fact", "said"),
    [
        (Contraction(), "She was still pushing after that, last at 02:04:05."),
        (Sac(), "A sac or a part of a pup was written down after that, last at 02:04:05."),
        (Part(part="head"),
         "A sac or a part of a pup was written down after that, last at 02:04:05."),
    ],
)  # fmt: skip
def test_an_end_before_a_push_or_a_sac_is_asked_about(fact: What, said: str) -> None:
    """Labour that was seen later shows that it was not over."""
    (doubt,) = doubts("-20m finished", box(entry(1, fact, 10)))
    assert doubt.sentence == said


def test_many_births_after_the_end_are_counted() -> None:
    """The question stays one line long."""
    pups = [entry(number, Birth(pup=number), 60 - number) for number in range(1, 6)]
    (doubt,) = doubts("-70m finished", box(*pups))
    assert doubt.sentence == "5 pups were born after that, the last of them pup 5 at 01:19:05."


def test_an_end_after_everything_is_not_asked_about() -> None:
    """What came before it, and what tells of no labour, raises no question."""
    later = (Rest(), Waters(), Temperature.model_validate({"celsius": "37.9"}))
    rows = [entry(number, fact, 5) for number, fact in enumerate(later, start=2)]
    assert doubts("finished") == ()
    assert doubts("finished 02:10", box(entry(1, Birth(pup=1), 30), *rows)) == ()


def test_an_end_that_births_followed_is_no_end_to_anybody() -> None:
    """Model and engine agree that it goes on, so the clock for the next pup runs."""
    night = read_night(
        "dam: Ash\ndate: 2026-03-02\nexpected: 4 xray\n\n"
        "01:00 pup\n01:10 finished\n02:00 pup\n02:05 afterbirth x2\n"
    )
    assert fold(Story(night.entries)).phase == "labour"
    at = night.entries[-1].at + timedelta(hours=5)
    alerts = {alert.rule.id for alert in assessed(night.entries).verdict(at).alerts}
    assert "gap-more-expected" in alerts
    assert alerts.isdisjoint({"vet-check-due", "afterbirth-missing-at-end"})
