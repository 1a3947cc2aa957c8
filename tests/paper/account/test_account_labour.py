"""The stages of labour, how long she pushed, and the longest wait, on paper."""

from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Contraction
from boxlamp.paper.account.labour import longest_interval, pushing_of, stages_of
from boxlamp.paper.account.models import Pushing, Stage
from boxlamp.paper.account.pups import pups_of
from support.accounts import entries_of, matter_of
from support.made import STREAMS, moved
from support.short_nights import clock, judged

MINUTE = timedelta(minutes=1)
TWO = "expected: 2 xray\n"


def stage(number: int, lines: str, at: datetime | None = None, header: str = "") -> Stage:
    """The last stage of that number."""
    return [one for one in stages_of(judged(lines, at, header)) if one.number == number][-1]


def minutes(pushing: Pushing | None) -> tuple[float, float]:
    """The strong and the weak minutes."""
    assert pushing is not None
    return pushing.strong / MINUTE, pushing.weak / MINUTE


def test_an_ordinary_night_has_three_stages() -> None:
    """First sign to first push, that push to the last pup, first afterbirth to the last."""
    first, second, third = stages_of(matter_of(entries_of("normal-first-litter")))

    assert (first.starts_with, first.ends_with) == ("restless, digging", "weak contraction")
    assert first.length == timedelta(hours=2, minutes=55)
    assert first.end == second.start
    assert (second.starts_with, second.ends_with) == ("weak contraction", "birth of pup 5")
    assert second.length == timedelta(hours=3, minutes=37)
    assert (third.starts_with, third.ends_with) == ("afterbirth of pup 1", "afterbirth of pup 5")
    assert not any(
        one.running or one.start_estimated or one.end_estimated for one in (first, second, third)
    )


def test_labour_without_a_sign_has_a_first_stage_of_unknown_start() -> None:
    """No start, no length and no words of one are made up."""
    first = stage(1, "02:00 waters\n03:00 pup\n")
    assert (first.start, first.length, first.starts_with) == (None, None, "")
    assert (first.end, first.ends_with) == (clock(2), "waters broke")


def test_signs_that_settled_are_a_stage_of_their_own() -> None:
    """The false start ends where she settled, and the later signs begin afresh."""
    lines = "02:00 sign panting off-food\n03:00 settled\n06:00 sign digging\n07:00 sac\n"
    false, true, _ = stages_of(judged(lines))

    assert (false.start, false.end, false.ends_with) == (clock(2), clock(3), "settled again")
    assert false.starts_with == "panting, off her food"
    assert (true.start, true.end, true.ends_with) == (clock(6), clock(7), "sac at the vulva")


def test_labour_that_comes_of_settled_signs_has_an_unknown_start() -> None:
    """She had settled: when she began again nobody wrote down."""
    lines = "02:00 sign panting\n03:00 settled\n06:00 part feet\n"
    false, true, second = stages_of(judged(lines))

    assert (false.end, true.start, true.end) == (clock(3), None, clock(6))
    assert (true.ends_with, second.starts_with) == ("feet showing", "feet showing")


def test_first_stage_goes_on_until_something_comes() -> None:
    """While there are only signs there is one stage, told so far."""
    [first] = stages_of(judged("02:00 sign panting\n", clock(5)))
    assert (first.running, first.end, first.length) == (True, None, timedelta(hours=3))


def test_an_elective_caesarean_has_no_labour() -> None:
    """No stage is told of a dam that never laboured; with signs only the first one."""
    births = "10:00 caesarean\n10:05 pup\n10:06 pup\n"
    assert stages_of(judged(births)) == ()
    [first] = stages_of(judged(f"08:00 sign panting\n{births}"))
    assert (first.number, first.end, first.ends_with) == (1, clock(10), "caesarean")


def test_a_caesarean_in_the_middle_ends_the_stages() -> None:
    """It ends the second stage and the third, whatever is born by it."""
    lines = "02:00 push\n02:20 pup\n02:30 afterbirth\n05:00 caesarean\n05:05 pup\n05:10 finished\n"
    _, second, third = stages_of(judged(lines))
    for one in (second, third):
        assert (one.end, one.ends_with, one.running) == (clock(5), "caesarean", False)


def test_a_night_that_goes_on_is_told_so_far() -> None:
    """While more may come the stages have no end, and their length is that up to now."""
    lines = "02:00 push strong\n02:20 pup\n02:30 afterbirth\n"
    _, second, third = stages_of(judged(lines, clock(3), TWO))
    for one, length in ((second, 60), (third, 30)):
        assert (one.running, one.end, one.length) == (True, None, length * MINUTE)
        assert not one.ends_with


@pytest.mark.parametrize(
    ("after", "at", "running"),
    [
        ("", clock(3, 10), True),  # just born: there may be one more
        ("", clock(4), False),  # calm for an hour
        ("03:05 rest\n", clock(3, 10), False),
        ("03:05 finished\n", clock(3, 10), False),
        ("03:05 push\n", clock(5), True),  # nobody wrote that she rested
        ("03:05 finished\n03:30 push\n", clock(5), True),  # she is at it again
        ("03:05 finished\n03:30 push\n03:40 rest\n", clock(5), False),
    ],
)
def test_with_the_number_born_it_is_over_once_she_rests(
    after: str, at: datetime, *, running: bool
) -> None:
    """It ended with the last birth when rest, calm or a word says so and no push denies it."""
    second = stage(2, f"02:00 push\n02:20 pup\n03:00 pup\n{after}", at, TWO)

    assert second.running is running
    assert second.end == (None if running else clock(3))
    assert second.ends_with == ("" if running else "birth of pup 2")


def test_a_mere_guess_does_not_end_it() -> None:
    """Two of about two born and hours of calm: nobody can say that she has finished."""
    lines = "02:20 pup\n03:00 pup\n03:05 rest\n"
    assert stage(2, lines, clock(6), "expected: 2 guess\n").running
    assert not stage(2, lines, clock(6), "expected: 2 scan\n").running


def test_an_end_that_nobody_wrote_down_is_unknown() -> None:
    """In week three she is not said to whelp still, nor is an end made up."""
    second = stage(2, "02:20 pup\n03:00 pup\n", clock(3, day=20))
    assert (second.running, second.end, second.length) == (False, None, None)


def test_a_pup_after_the_word_of_the_end_takes_it_back() -> None:
    """Called finished too early: the stage ends with the pup that came after all."""
    second = stage(2, "02:00 pup\n02:30 finished\n04:00 pup\n04:30 finished\n")
    assert (second.start, second.end) == (clock(2), clock(4))


def test_labour_that_brought_nothing_ends_with_the_word_of_it() -> None:
    """With no pup written down the end is the one that was typed."""
    second = stage(2, "02:00 push\n05:00 finished by vet\n")
    assert (second.end, second.ends_with) == (clock(5), "written down as finished")


@pytest.mark.parametrize(("line", "estimated"), [("02:00", False), ("~02:00", True)])
def test_pups_found_born_rest_on_an_estimate(line: str, *, estimated: bool) -> None:
    """A time that was guessed makes an estimate of the stages and of the interval."""
    matter = judged(f"{line} pup\n13:00 pup\n13:10 finished\n")
    first, second, *_ = stages_of(matter)
    assert (first.end_estimated, second.start_estimated) == (estimated, estimated)
    longest = longest_interval(matter)
    assert longest is not None
    assert longest.estimated is estimated


def test_one_afterbirth_is_a_third_stage_of_no_length() -> None:
    """It begins and ends with the only one there is."""
    third = stage(3, "02:00 pup\n02:10 afterbirth eaten\n02:30 finished\n")
    assert (third.start, third.end, third.length) == (clock(2, 10), clock(2, 10), 0 * MINUTE)


def test_an_afterbirth_may_come_before_its_pup() -> None:
    """The stage begins with it all the same, and says whose it counts as."""
    third = stage(3, "02:00 push\n02:10 afterbirth\n02:20 pup\n02:30 finished\n")
    assert (third.start, third.starts_with) == (clock(2, 10), "afterbirth of pup 1")


def test_an_afterbirth_may_come_next_day() -> None:
    """Until then the third stage goes on; then it ended there, hours after the second."""
    lines = "02:00 pup\n02:10 afterbirth\n02:30 pup\n03:00 finished\n"
    waiting = stage(3, lines, clock(20))
    assert (waiting.running, waiting.end) == (True, None)
    done = stage(3, f"{lines}21:30 afterbirth\n")
    assert (done.running, done.end, done.ends_with) == (False, clock(21, 30), "afterbirth of pup 2")


def test_an_afterbirth_that_never_came_leaves_the_end_unknown() -> None:
    """Weeks later the stage neither goes on nor has an end."""
    lines = "02:00 pup\n02:10 afterbirth\n02:30 pup\n03:00 finished\n"
    third = stage(3, lines, clock(3, day=20))
    assert (third.running, third.end, third.length) == (False, None, None)


def test_no_afterbirth_at_all_is_said_as_unknown() -> None:
    """Once she is done a third stage without start or end says that none was written down."""
    lines = "02:00 pup\n02:10 afterbirth not seen\n"
    assert not [one for one in stages_of(judged(lines)) if one.number == 3]
    assert stage(3, f"{lines}03:00 finished\n") == Stage(number=3, start=None, end=None)


def test_struck_lines_count_for_nothing() -> None:
    """A push that was struck neither begins a stage nor counts as pushing."""
    matter = judged("02:00 push\n02:05 strike 2\n")
    assert stages_of(matter) == ()
    assert pushing_of(matter) is None


@pytest.mark.parametrize(
    ("lines", "strong", "weak"),
    [
        ("02:00 push\n", 0, 0),  # a lone push: nothing says how long
        ("02:00 push\n02:10 rest\n", 10, 0),
        ("02:00 push\n02:10 pup\n", 10, 0),
        ("02:00 push\n02:10 caesarean\n02:20 push\n02:40 pup\n", 10, 0),
        ("02:00 push\n02:10 push strong\n", 10, 0),
        ("02:00 push\n02:10 push\n03:00 finished\n", 10, 0),  # to the last push, no further
        ("02:00 push\n02:10 rest\n02:15 push\n02:20 pup\n", 15, 0),  # the rest is left out
        ("02:00 push weak\n02:10 rest\n", 0, 10),
        ("02:00 push weak\n02:10 push strong\n02:30 pup\n", 20, 10),  # no minute twice
        ("02:00 push strong\n02:10 push weak\n02:30 pup\n", 30, 0),  # weak ones end no strong bout
        ("02:00 push strong\n02:10 push weak\n02:30 push weak\n", 0, 20),
        ("02:00 push weak\n02:20 push strong\n", 0, 20),
        ("02:00 push\n02:10 waters\n02:15 note hm\n02:20 sac\n02:30 rest\n", 30, 0),
    ],
)
def test_minutes_of_pushing(lines: str, strong: float, weak: float) -> None:
    """A bout runs from its first push to the rest, birth or caesarean, or to its last push."""
    assert minutes(pushing_of(judged(lines, clock(6)))) == (strong, weak)


def test_pushes_are_counted_and_the_longest_bout_is_named() -> None:
    """A push of no stated strength is a strong one."""
    lines = (
        "02:00 push\n02:04 push strong\n02:10 rest\n03:00 push weak\n03:05 push\n03:25 pup\n"
        "04:00 push\n04:20 pup\n"
    )
    found = pushing_of(judged(lines))
    assert found is not None
    assert (found.strong_pushes, found.weak_pushes) == (4, 1)
    assert (found.longest_strong, found.longest_strong_from) == (20 * MINUTE, clock(3, 5))


def test_without_strong_pushes_there_is_no_longest() -> None:
    """Weak pushes alone leave the longest strong bout unknown."""
    found = pushing_of(judged("02:00 push weak\n02:30 rest\n"))
    assert found is not None
    assert (found.strong, found.longest_strong, found.longest_strong_from) == (
        0 * MINUTE,
        None,
        None,
    )


def test_the_longest_wait_names_its_pups() -> None:
    """Order of birth decides who follows whom, not the order of typing."""
    lines = "02:00 pup\n03:00 pup\n02:10 pup\n05:00 pup\n05:00 pup\n"
    matter = judged(lines.replace("02:10", "2026-03-02 02:10"))
    longest = longest_interval(matter)
    assert longest is not None
    assert (longest.after, longest.before, longest.length) == (2, 4, 2 * 60 * MINUTE)
    assert [pup.interval for pup in pups_of(matter)] == [
        None, 10 * MINUTE, 50 * MINUTE, 120 * MINUTE, 0 * MINUTE,
    ]  # fmt: skip


def test_one_pup_has_no_interval() -> None:
    """There is nothing to measure before a second birth."""
    assert longest_interval(judged("02:00 pup\n")) is None


@settings(max_examples=60, deadline=None)
@given(STREAMS)
def test_any_night_adds_up(entries: tuple[Entry, ...]) -> None:
    """Intervals sum to the time from first to last birth; no more is pushed than time went by.

    The longest is one of them, and none of those in which the surgeon took out pup after pup.
    """
    matter = matter_of(entries)
    pups, longest = pups_of(matter), longest_interval(matter)
    lengths = [pup.interval for pup in pups if pup.interval is not None]
    assert sum(lengths, timedelta(0)) == (pups[-1].born - pups[0].born if pups else timedelta(0))
    waited = [
        other.born - one.born
        for one, other in pairwise(matter.verdict.litter.in_order)
        if not one.by_caesarean
    ]
    assert (longest.length if longest else None) == max(waited, default=None)

    found = pushing_of(matter)
    pushes = [one for one in entries if isinstance(one.what, Contraction)]
    if found is not None:
        assert found.strong + found.weak <= matter.verdict.at - pushes[0].at
        assert found.strong >= (found.longest_strong or timedelta(0)) >= timedelta(0)
        assert found.strong_pushes + found.weak_pushes <= len(pushes)


@settings(max_examples=60, deadline=None)
@given(STREAMS)
def test_stages_of_any_night_are_sound(entries: tuple[Entry, ...]) -> None:
    """They are in order; none ends before it starts or later than now; none runs that ended."""
    matter = matter_of(entries)
    stages = stages_of(matter)
    assert [one.number for one in stages] == sorted(one.number for one in stages)
    for one in stages:
        assert not (one.running and one.end)
        assert one.length is None or one.length >= timedelta(0)
        assert all(at is None or at <= matter.verdict.at for at in (one.start, one.end))
        assert (one.start is None) == (not one.starts_with)
        assert (one.end is None) == (not one.ends_with)
    firsts = [one for one in stages if one.number == 1]
    assert all(one.end <= two.end for one, two in pairwise(firsts) if one.end and two.end)


@settings(max_examples=30, deadline=None)
@given(STREAMS)
def test_midnight_and_the_clock_change_do_not_change_a_length(entries: tuple[Entry, ...]) -> None:
    """The same night across the change to summer time has the same stages, lengths and sums."""
    shift = timedelta(days=26, hours=20, minutes=30)
    other = moved(entries, shift, "Europe/Prague")
    one, two = matter_of(entries), matter_of(other)
    assert pushing_of(one) is None or minutes(pushing_of(one)) == minutes(pushing_of(two))
    assert [(a.number, a.length, a.running, a.ends_with) for a in stages_of(one)] == [
        (a.number, a.length, a.running, a.ends_with) for a in stages_of(two)
    ]
    assert longest_interval(one) == longest_interval(two)
