"""What the library makes of formulas, pinned down on signals small enough to see through."""

import random
from collections.abc import Callable

import pytest

from judge.monitor import evaluated, names_in
from judge.signals import FALSE, MOST, TICK, TRUE, Signal, Span, by_second, held, places, pulses
from support.effort import effort

pytest.importorskip("rtamt")


def during(*stretches: tuple[float, float]) -> Signal:
    """True in each of these stretches, half open."""
    return held([turn for start, end in stretches for turn in ((start, TRUE), (end, FALSE))])


def test_a_signal_holds_until_its_next_point() -> None:
    """Piecewise constant and half open: true at its start, no longer true at its end."""
    assert evaluated("a and b", {"a": during((10, 30)), "b": during((20, 40))}) == during((20, 30))
    assert evaluated("a or b", {"a": during((10, 20)), "b": during((20, 30))}) == during((10, 30))


@pytest.mark.parametrize(("bound", "expected"), [(50, (150, 250)), (149, (249, 250))])
def test_so_long_without_a_break_is_reached_at_its_second(
    bound: int, expected: tuple[int, int]
) -> None:
    """From 100 on, for 50 s: true from 150 (``>=``) until the very end of the stretch."""
    assert evaluated(f"historically[0:{bound}](a)", {"a": during((100, 250))}) == during(expected)


def test_a_limit_is_not_reached_at_the_end_of_the_stretch() -> None:
    """What ends in the second in which the limit runs out has ended in time."""
    assert evaluated("historically[0:150](a)", {"a": during((100, 250))}) == during()


def test_before_the_beginning_nothing_is_asked() -> None:
    """True by lack of past: why the first entry lies long after the beginning of time."""
    assert evaluated("historically[0:50](a)", {"a": during((0, 100))}) == during((0, 100))


def test_once_is_true_from_the_pulse_until_the_bound_has_gone_by() -> None:
    """A pulse at 200: true in the 50 s after it, and still at the 50th while the pulse lasts."""
    found = evaluated("once[0:50](a)", {"a": pulses([200])})
    assert found == during((200, 250 + TICK))
    assert by_second(found) == ((200, True), (250, False))


def test_since_needs_both_at_the_beginning() -> None:
    """A stop in the very pulse that begins it leaves it unbegun."""
    both = {"stop": pulses([200]), "begin": pulses([100, 200])}
    assert evaluated("(not stop) since begin", both) == during((100, 200))


def test_since_goes_on_until_it_is_stopped() -> None:
    """And a second beginning changes nothing."""
    both = {"stop": pulses([200, 400]), "begin": pulses([100, 150, 300])}
    assert evaluated("(not stop) since begin", both) == during((100, 200), (300, 400))


def test_the_order_within_a_second_is_kept() -> None:
    """A push and then a rest is no pushing; a rest and then a push is."""
    first, second = places([100, 100])
    push_first = {"push": pulses([first]), "rest": pulses([second])}
    rest_first = {"push": pulses([second]), "rest": pulses([first])}
    assert by_second(evaluated("(not rest) since push", push_first)) == ()
    assert by_second(evaluated("(not rest) since push", rest_first)) == ((100, True),)


def test_a_bound_is_read_before_or_after_the_entries_of_its_second() -> None:
    """A rest of 30 min and then a push in that second: long if read before it, else short."""
    bound = Span(1800)
    for position in range(3):
        rest, *_, push = places([100, *[1900] * (position + 1)])
        told = {"rest": pulses([rest]), "push": pulses([push])}
        resting = "(not push) since rest"
        for read, long in ((bound.early, True), (bound.late, False)):
            formula = f"push and (once(historically[0:{read}]({resting})))"
            assert (evaluated(formula, told) != during()) is long


def test_a_second_has_room_for_many_entries_and_says_when_it_is_full() -> None:
    """Nothing is squeezed into the next second."""
    assert places([7] * MOST)[-1] < 7.5
    with pytest.raises(ValueError, match="more than a second has room for"):
        places([7] * (MOST + 1))


def test_the_words_of_logic_are_no_signals() -> None:
    """What a formula speaks of is found in it."""
    assert names_in("(not a) since b and once[0:5](historically(c1))") == ("a", "b", "c1")


LENGTH = 24
Turns = list[bool]
"""Whether something is true in each whole second."""


def _no(of: Turns) -> Turns:
    return [not one for one in of]


def _both(one: Turns, other: Turns) -> Turns:
    return [here and there for here, there in zip(one, other, strict=True)]


def _any(one: Turns, other: Turns) -> Turns:
    return [here or there for here, there in zip(one, other, strict=True)]


def _window(of: Turns, now: int, begin: int, end: int) -> Turns:
    """The seconds from ``end`` to ``begin`` ago, both included, as far as there are any."""
    return of[max(0, now - end) : max(0, now - begin + 1)]


def _once(of: Turns, begin: int = 0, end: int = LENGTH) -> Turns:
    return [any(_window(of, now, begin, end)) for now in range(LENGTH)]


def _always(of: Turns, begin: int = 0, end: int = LENGTH) -> Turns:
    return [all(_window(of, now, begin, end)) for now in range(LENGTH)]


def _since(left: Turns, right: Turns, end: int = LENGTH) -> Turns:
    """True where ``right`` was true at most ``end`` ago and ``left`` from then on until now."""
    return [
        any(right[then] and all(left[then : now + 1]) for then in range(max(0, now - end), now + 1))
        for now in range(LENGTH)
    ]


LAWS: dict[str, Callable[[Turns, Turns], Turns]] = {
    "(not a) since b": lambda a, b: _since(_no(a), b),
    "historically[0:3](a)": lambda a, _: _always(a, 0, 3),
    "once[0:4](b)": lambda _, b: _once(b, 0, 4),
    "once[2:4](a)": lambda a, _: _once(a, 2, 4),
    "historically[1:3](a or b)": lambda a, b: _always(_any(a, b), 1, 3),
    "(not a) since (b and not (a))": lambda a, b: _since(_no(a), _both(b, _no(a))),
    "a since[0:3] b": lambda a, b: _since(a, b, 3),
    "once(a and b)": lambda a, b: _once(_both(a, b)),
    "historically(not (a))": lambda a, _: _always(_no(a)),
    "(a since[0:3] b) or (once[0:2](a and b))": lambda a, b: _any(
        _since(a, b, 3), _once(_both(a, b), 0, 2)
    ),
}


@pytest.mark.parametrize("formula", LAWS)
def test_the_library_agrees_with_the_definitions(formula: str) -> None:
    """Random signals on whole seconds, and each operator worked out from its definition."""
    dice = random.Random(formula)  # noqa: S311 - for a test, not for a secret
    for _ in range(effort(40, 4000)):
        a, b = ([False] * 6 + [dice.random() < 0.5 for _ in range(LENGTH - 6)] for _ in range(2))
        found = evaluated(formula, {"a": held(_points(a)), "b": held(_points(b))})
        assert [_at(found, now) for now in range(LENGTH)] == LAWS[formula](a, b), (a, b)


def _points(turns: Turns) -> list[tuple[float, float]]:
    return [(float(second), TRUE if true else FALSE) for second, true in enumerate(turns)]


def _at(signal: Signal, moment: float) -> bool:
    return [value for place, value in signal if place <= moment][-1] > 0
