from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from boxlamp.training.drill.order import IN_A_ROW, Shelf, next_night, weak_rules, why_next
from boxlamp.training.drill.record import Held, Result
from support.made import at


def shelf(key: str, *rules: str, troubled: bool = True, hours: int = 8) -> Shelf:
    return Shelf(key, frozenset(rules), troubled, timedelta(hours=hours))


def done(
    night: str, minute: float, *, right: tuple[str, ...] = (), wrong: tuple[str, ...] = (),
    troubled: bool = True,
) -> Result:  # fmt: skip
    return Result(
        trainee="", at=at(minute), night=night, dam="Ash", troubled=troubled, finished=True,
        score=70, passed=True, stops=10, calm=3, calm_held=3, acts=0, acts_right=0, lines=0,
        lines_right=0, right=right, wrong=wrong,
    )  # fmt: skip


GAP, PUSH, CALM = shelf("gap", "g"), shelf("push", "p", "g"), shelf("calm", troubled=False)
SHELVES = [GAP, PUSH, CALM]


def test_the_first_night_is_a_short_one() -> None:
    """Who has done nothing begins with the shortest."""
    assert next_night([shelf("long", hours=900), shelf("short", hours=6)], []).key == "short"


def test_what_went_wrong_comes_first() -> None:
    """A night that exercises it, another one than the last, though others are still new."""
    past = [done("gap", 0, wrong=("g",))]

    assert weak_rules(past) == {"g"}
    assert next_night([shelf("new"), *SHELVES], past).key == "push"


def held(*levels: str) -> tuple[Held, ...]:
    return tuple(Held(rule="g", level=level) for level in levels)


def weak_after(*results: Result) -> bool:
    return weak_rules(results) == {"g"}


def test_what_is_mended_is_no_longer_wrong() -> None:
    """By a right answer at that level, whatever the order of the lines in the file."""
    wrong = done("gap", 0).model_copy(update={"poorly": held("call")})

    assert weak_after(wrong)
    assert not weak_after(done("push", 60).model_copy(update={"well": held("call")}), wrong)
    assert weak_after(wrong, done("push", 60).model_copy(update={"well": held("watch")}))


def test_carrying_on_mends_nothing() -> None:
    """A night in which the rule never stood at that level leaves it on the list."""
    wrong = done("gap", 0).model_copy(update={"poorly": held("call")})

    assert weak_after(wrong, done("push", 60, right=("g",)))


def test_a_go_takes_two_right_answers() -> None:
    """In one drill or in two; a new mistake begins anew."""
    wrong = done("gap", 0).model_copy(update={"poorly": held("go")})
    one = done("push", 60).model_copy(update={"well": held("go")})

    assert weak_after(wrong, one)
    assert not weak_after(wrong, one, one.model_copy(update={"at": at(70)}))
    assert not weak_after(wrong, one.model_copy(update={"well": held("go", "go")}))


def test_a_drill_left_early_mends_nothing() -> None:
    """What was wrong in it counts all the same."""
    wrong = done("gap", 0).model_copy(update={"poorly": held("call"), "finished": False})
    right = done("push", 60).model_copy(update={"well": held("call"), "finished": False})

    assert weak_after(wrong, right)


def test_why_a_night_is_offered_gives_nothing_away() -> None:
    """What went wrong, what is new, what is longest ago; no rule is named."""
    past = [done("gap", 0, wrong=("g",))]

    assert why_next(PUSH, past) == "it exercises something you got wrong"
    assert why_next(CALM, past) == "a night you have not done yet"
    assert why_next(GAP, [done("gap", 0)]) == "the night you did longest ago"


def test_then_what_is_new_and_then_the_oldest() -> None:
    """Nights never done, then the one done longest ago."""
    past = [done("gap", 0, troubled=False), done("push", 10)]

    assert next_night(SHELVES, past).key == "calm"
    past.append(done("calm", 20, troubled=False))
    assert next_night(SHELVES, past).key == "gap"


def test_after_two_troubled_nights_comes_a_calm_one() -> None:
    """Even when something went wrong."""
    past = [done("gap", 0, wrong=("g",)), done("push", 10, wrong=("p",))]

    assert next_night(SHELVES, past).key == "calm"
    assert next_night([GAP, PUSH], past).key == "gap"


def test_the_only_night_comes_again() -> None:
    """There is always an answer."""
    assert next_night([GAP], [done("gap", 0)]) == GAP


@given(st.lists(st.sampled_from(SHELVES), max_size=30))
def test_never_three_troubled_nights_in_a_row(first: list[Shelf]) -> None:
    """However it began and whatever goes wrong, and never the same night twice running."""
    past = [
        done(one.key, minute, wrong=tuple(one.rules), troubled=one.troubled)
        for minute, one in enumerate(first)
    ]
    chosen: list[Shelf] = []
    for minute in range(100, 112):
        one = next_night(SHELVES, past)
        assert next_night(list(reversed(SHELVES)), past) == one
        assert not past or past[-1].night != one.key
        chosen.append(one)
        past.append(done(one.key, minute, wrong=tuple(one.rules), troubled=one.troubled))
    troubled = [one.troubled for one in chosen]
    assert not any(
        all(troubled[place : place + IN_A_ROW + 1]) for place in range(len(troubled) - IN_A_ROW)
    )
