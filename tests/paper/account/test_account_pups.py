"""The pups on paper."""

from datetime import datetime
from decimal import Decimal

import pytest
from hypothesis import given, settings

from boxlamp.growth.table import weight_table
from boxlamp.model.entry import Entry
from boxlamp.paper.account.models import PupAccount, StepDone
from boxlamp.paper.account.pups import pups_of
from support.accounts import entries_of, matter_of
from support.made import STREAMS
from support.short_nights import clock, judged


def pup(lines: str, at: datetime | None = None) -> PupAccount:
    """The first pup of these lines."""
    return pups_of(judged(lines, at))[0]


def test_everything_said_of_a_pup_stands_in_its_account() -> None:
    """Birth line, steps, first milk and afterbirth arrive as they were written down."""
    one, two, *_ = pups_of(matter_of(entries_of("normal-first-litter")))

    assert (one.order, one.number, one.sex, one.mark) == (1, 1, "dog", "red")
    assert (one.birth_weight_g, one.presentation) == (Decimal(182), "head")
    assert [step.step for step in one.steps] == [
        "sac-open", "airway", "breathing", "dried", "cord", "marked", "palate", "milk",
    ]  # fmt: skip
    assert one.steps[4].finding == "tied"
    assert one.first_milk == one.steps[-1].at
    assert one.afterbirth == "seen"
    assert one.afterbirth_at is not None
    assert one.afterbirth_at < two.born


def test_a_forgotten_pup_is_second_in_order_and_third_by_name() -> None:
    """Order goes by the time of birth; a number never changes."""
    found = pups_of(judged("02:00 pup\n03:00 pup\n2026-03-02 02:30 pup\n"))
    assert [(one.order, one.number) for one in found] == [(1, 1), (2, 3), (3, 2)]


def test_a_struck_pup_vanishes() -> None:
    """What was said of it goes with it, and the next one's interval closes over it."""
    lines = "02:00 pup\n02:30 pup 300g\n02:40 milk 2\n03:00 pup\n03:05 strike 3 counted twice\n"
    one, other = pups_of(judged(lines))
    assert (one.number, other.number, other.order) == (1, 3, 2)
    assert other.interval == clock(3) - clock(2)


def test_a_late_first_weight_is_no_birth_weight() -> None:
    """It means here what it means in the weight table."""
    found = pup("02:00 pup\n2026-03-04 02:00 weigh 1 330g\n")
    assert (found.birth_weight_g, found.weight_g) == (None, Decimal(330))
    assert found.weighed == clock(2, day=4)


def test_a_weight_in_time_is_the_birth_weight() -> None:
    """Typed an hour later it still is; the newest one stands beside it."""
    found = pup("02:00 pup\n03:00 weigh 1 330g\n2026-03-03 02:00 weigh 1 350g\n")
    assert (found.birth_weight_g, found.weight_g) == (Decimal(330), Decimal(350))


def test_a_stillborn_pup_is_dead_from_its_birth() -> None:
    """It has its birth weight and an afterbirth to come, and died when it was born."""
    found = pup("02:00 pup dead 251g\n02:20 died 1 its afterbirth came first\n")
    assert (found.state_at_birth, found.state, found.died) == ("dead", "dead", clock(2))
    assert (found.birth_weight_g, found.weight_g, found.afterbirth) == (Decimal(251), None, "owed")
    assert found.died_of == "its afterbirth came first"


def test_why_it_died_is_told_as_corrected() -> None:
    """An amended cause replaces the one that was typed first."""
    lines = "02:00 pup\n05:00 died 1 chilled\n"
    assert pup(lines).died_of == "chilled"
    found = pup(f"{lines}06:00 amend 3 died 1 lain on\n")
    assert (found.died_of, found.died) == ("lain on", clock(5))


def test_first_milk_is_the_first() -> None:
    """A second drink does not replace the first; a bottle is none; a teat feed is one."""
    lines = "02:00 pup\n02:10 feed 1 2ml bottle\n"
    assert pup(lines).first_milk is None
    assert pup(f"{lines}02:20 feed 1 teat\n03:00 milk 1\n").first_milk == clock(2, 20)


def test_a_step_done_twice_is_there_twice() -> None:
    """A cord that bled and was tied says both, in order."""
    found = pup("02:00 pup\n02:05 cord 1 bleeding\n02:07 cord 1 tied\n")
    assert found.steps == (
        StepDone(step="cord", at=clock(2, 5), finding="bleeding"),
        StepDone(step="cord", at=clock(2, 7), finding="tied"),
    )


def test_the_latest_score_counts_and_what_was_not_taken_is_none() -> None:
    """Sum, number of items taken and each item; a question mark is no zero."""
    found = pup("02:00 pup\n02:05 score 1 1 1 0 0 1\n03:00 score 1 2 ? 1 2 ?\n").viability
    assert found is not None
    assert (found.total, found.items_taken, found.at) == (5, 3, clock(3))
    assert found.items == (2, None, 1, 2, None)


def test_a_chip_and_a_new_home_are_told() -> None:
    """The number as it was read, and when it left."""
    lines = "02:00 pup\n2026-03-20 10:00 chip 1 826098100001237\n2026-03-21 10:00 left home 1\n"
    found = pup(lines)
    assert (found.chip, found.left_home) == ("826098100001237", clock(10, day=21))
    assert found.state == "left home"


def test_after_a_caesarean_pups_are_told_as_its_own() -> None:
    """They owe no afterbirth; one that was owed before was answered for by the caesarean."""
    one, two = pups_of(judged("02:00 pup\n05:00 caesarean\n05:05 pup\n"))
    assert (one.by_caesarean, one.afterbirth, one.afterbirth_at) == (False, "caesarean", clock(5))
    assert (two.by_caesarean, two.afterbirth, two.afterbirth_at) == (True, "caesarean", None)


def test_an_estimated_birth_is_said_to_be_one() -> None:
    """So is one that became an estimate by a correction."""
    assert pup("~02:00 pup\n").estimated
    assert not pup("02:00 pup\n").estimated


@pytest.mark.parametrize(
    ("lines", "state"),
    [
        ("", ""),  # nothing was said
        ("03:00 state 1 well\n", "well"),
        ("03:00 state 1 crying weak\n", "crying, weak"),
        ("03:00 state 1 crying\n03:10 state 1 well\n", "well"),
        ("03:00 state 1 crying\n03:10 milk 1\n", ""),
        ("03:00 state 1 limp\n03:05 breathing 1\n", ""),
        ("03:00 state 1 not-breathing\n03:05 state 1 crying\n", "crying"),
        ("03:00 state 1 cold\n03:10 temp pup 1 36.4\n", ""),
        ("03:00 state 1 well\n03:10 state 1 bloated\n", "bloated"),
        ("03:00 palate 1 cleft\n03:30 vet advised\n", "cleft palate"),  # advice mends nothing
        ("03:00 palate 1 cleft\n03:10 state 1 well\n", "cleft palate"),
        ("03:00 palate 1 cleft\n03:10 palate 1 ok\n", ""),
        ("03:00 state 2 crying\n", ""),  # the other pup
        ("03:00 state 1 crying\n03:10 died 1\n", "dead"),
    ],
)
def test_its_state_is_what_was_last_said(lines: str, state: str) -> None:
    """Signs stand until something ends them; unknown is empty and never well."""
    assert pup(f"02:00 pup\n02:01 pup\n{lines}", clock(3, 35)).state == state


def test_a_sign_that_nobody_writes_of_runs_out() -> None:
    """Weeks later a pup that once cried is of unknown state; one born with a cleft still has it."""
    lines = "02:00 pup\n02:01 pup\n03:00 state 1 weak\n03:00 palate 2 cleft\n"
    states = [[one.state for one in pups_of(judged(lines, clock(4, day=day)))] for day in (2, 20)]
    assert states == [["weak", "cleft palate"], ["", "cleft palate"]]


def test_a_pup_born_limp_is_limp_until_it_breathes() -> None:
    """Nothing said since its birth means limp still."""
    assert pup("02:00 pup limp\n").state == "limp"
    assert not pup("02:00 pup limp\n02:02 breathing 1\n").state


def test_what_comes_later_is_not_known() -> None:
    """At half past two nobody knows of the milk, the weight or the death of three o'clock."""
    lines = "02:00 pup\n03:00 milk 1\n03:00 weigh 1 300g\n03:00 score 1 2 2 2 2 2\n04:00 died 1\n"
    assert pup(lines, clock(2, 30)) == pup("02:00 pup\n", clock(2, 30))


@settings(max_examples=60, deadline=None)
@given(STREAMS)
def test_any_pup_is_told_once_and_soundly(entries: tuple[Entry, ...]) -> None:
    """Order counts up, no weight differs from the weight table, nothing lies in the future."""
    matter = matter_of(entries)
    found = pups_of(matter)
    assert [one.order for one in found] == list(range(1, len(found) + 1))
    assert len({one.number for one in found}) == len(found)
    births = {row.number: row.birth for row in weight_table(matter.verdict).pups}
    assert {one.number: one.birth_weight_g for one in found} == births
    for one in found:
        moments = [one.born, one.died, one.first_milk, *(step.at for step in one.steps)]
        assert all(at is None or one.born <= at <= matter.verdict.at for at in moments)
        assert (one.died is not None) == (one.state == "dead")


def test_what_the_alerts_say_of_a_pup_stands_in_its_account() -> None:
    """A cold reading, a cord that bleeds: no sign was typed, and neither pup is merely alive."""
    lines = (
        "02:00 pup\n02:01 breathing 1\n02:02 pup limp\n02:03 breathing 2\n02:05 cord 1 bleeding\n"
    )
    one, two = pups_of(judged(f"{lines}03:30 temp pup 2 34.0\n", clock(3, 40)))
    assert (one.state, one.standing) == ("", ("cord bleeding",))
    assert (two.state, two.standing[0]) == ("", "cold")
    assert (two.celsius, two.measured) == (Decimal("34.0"), clock(3, 30))


def test_an_alert_about_several_pups_stands_with_each_that_it_names() -> None:
    """Low birth weights are told in one line; the pup that weighs enough is not among them."""
    lines = "02:00 pup 300g\n02:20 pup 420g\n02:40 pup 310g\n"
    matter = judged(lines, clock(2, 45), "breed: Labrador Retriever\n")
    low = ["low birth weight" in one.standing for one in pups_of(matter)]
    assert low == [True, False, True]


def test_a_sign_is_said_once() -> None:
    """Where an alert and a sign say the same, the sign does."""
    [found] = pups_of(judged("02:00 pup limp\n02:01 state 1 limp\n", clock(2, 10)))
    assert (found.state, found.standing) == ("limp", ())


def test_a_temperature_of_long_ago_says_nothing_of_now() -> None:
    """It stands beside the pup no longer than an alert would rest on it."""
    lines = "02:00 pup\n05:00 temp pup 1 36.5\n"
    assert pup(lines, clock(7)).measured == clock(5)
    assert pup(lines, clock(7, day=9)).celsius is None


def test_a_pup_fed_by_hand_still_does_not_suckle() -> None:
    """A bottle ends the alert about its hunger, and not the sign; the teat ends both."""
    lines = "02:00 pup\n03:30 state 1 not-suckling\n"
    assert pup(f"{lines}03:40 feed 1 2ml bottle\n").state == "not suckling"
    assert not pup(f"{lines}03:40 feed 1 teat\n").state


def test_what_was_written_behind_a_line_stands_with_its_pup() -> None:
    """Behind whatever line it was; what was written of another pup does not."""
    lines = "02:00 pup; small\n02:20 pup\n03:00 feed 1 2ml bottle; milk came out of nose\n"
    one, two = pups_of(judged(lines))
    assert [(note.at, note.words) for note in one.notes] == [
        (clock(2), "small"),
        (clock(3), "milk came out of nose"),
    ]
    assert not two.notes
