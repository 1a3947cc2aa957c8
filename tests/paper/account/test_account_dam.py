"""The dam and her due dates on paper."""

from decimal import Decimal

from boxlamp.language import read_night
from boxlamp.paper.account.dam import dam_of, due_of
from boxlamp.paper.account.models import Dam
from support.accounts import entries_of, matter_of
from support.short_nights import clock, judged

MATED = "ovulation: 2025-12-30\nmated: 2025-12-28\n"


def test_what_was_said_of_the_dam_stands_on_paper() -> None:
    """Header facts arrive in stored units, the last word of each winning."""
    dam = dam_of(matter_of(entries_of("normal-first-litter")))

    assert (dam.name, dam.breed, dam.first_litter) == ("Bramble", "Border Terrier", True)
    assert (dam.weight_g, dam.age_years) == (Decimal(7200), Decimal(3))
    assert (dam.vet_phone, dam.travel_minutes) == ("000 555 010", 25)


def test_what_nobody_said_is_unknown() -> None:
    """Nothing is guessed: every fact but the name is None when only a name was given."""
    assert dam_of(judged("02:00 rest\n")) == Dam(name="Ash")


def test_a_later_word_replaces_an_earlier_one() -> None:
    """A weight set during the night is the weight on the paper."""
    assert dam_of(judged("02:00 set weight 12kg\n02:05 rest\n")).weight_g == Decimal(12_000)


def test_risks_are_told_in_words() -> None:
    """A dam at risk is told with the reason, as the limits know it."""
    dam = dam_of(judged("02:00 rest\n", header="first-litter: yes\nage: 6y\n"))
    assert dam.risks == ("first litter over 4 years",)


def test_every_basis_counts_to_the_first_pup() -> None:
    """The day of the count is that of the first birth, however much later one looks."""
    lines = "02:00 pup\n03:00 pup\n03:30 finished\n"
    for at in (None, clock(12, day=9)):
        due = due_of(judged(lines, at, MATED))
        assert [(one.basis, one.day_of_count) for one in due] == [
            ("ovulation", 62),
            ("first mating", 64),
        ]
        assert [one.drives for one in due] == [True, False]


def test_before_a_birth_the_count_is_of_today() -> None:
    """While nothing is born the count goes on by the wall clock of the house."""
    days = [
        due_of(judged("02:00 sign restless\n", clock(hour, day=day), MATED))[0].day_of_count
        for day, hour in ((2, 23), (3, 0), (3, 23))
    ]
    assert days == [62, 63, 63]


def test_a_caesarean_is_the_day_of_the_birth() -> None:
    """Where no pup was written down, the count stops at the caesarean."""
    [due] = due_of(judged("10:00 caesarean\n", clock(10, day=20), "ovulation: 2025-12-30\n"))
    assert due.day_of_count == 62


def test_the_day_is_that_of_the_wall_clock() -> None:
    """A pup born soon after midnight in Prague is born on that day, not on the one of UTC."""
    text = "dam: Ash\nzone: Europe/Prague\ndate: 2026-03-02\novulation: 2025-12-30\n\n00:30 pup\n"
    matter = matter_of(read_night(text, source="ash").entries)
    [due] = due_of(matter)

    assert matter.verdict.story.entries[-1].at == clock(23, 30, day=1)
    assert due.day_of_count == 62


def test_without_any_date_there_is_no_due_day() -> None:
    """Nothing to count from gives no row."""
    assert due_of(judged("02:00 pup\n")) == ()
