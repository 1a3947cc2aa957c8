from datetime import timedelta
from decimal import Decimal

import pytest

from boxlamp.model.happenings import Birth, Contraction, Details, Limit, Rest, What
from boxlamp.paper.account.evidence import LimitAccount
from boxlamp.paper.account.limits import changes_of, limits_of, sources_of
from boxlamp.rules.registry import RULES
from support.accounts import entries_of, matter_of
from support.made import told
from support.nights import DEFAULT

PUSHING = "contraction-no-pup"
NIGHTS = ["stalled-labour", "pup-stuck", "eight-weeks"]


def changed(level: str, minutes: int, rule: str = PUSHING, **more: str) -> Limit:
    return Limit.model_validate(
        {"rule": rule, "level": level, "seconds": 60 * minutes, "by": "Dr Ash", "why": "small"}
        | more
    )


def pushing(*lines: tuple[float, What], rule: str = PUSHING) -> dict[str, LimitAccount]:
    """The limits of one rule in a night that begins with a push."""
    matter = matter_of(told((0, Contraction()), *lines))
    return {limit.level: limit for limit in limits_of(matter) if limit.rule == rule}


def minutes(limit: LimitAccount) -> tuple[float | None, float | None]:
    """The limit in force and the protocol's own."""
    spans = [None if one is None else one.total_seconds() / 60 for one in (limit.span, limit.own)]
    return spans[0], spans[1]


def test_a_limit_says_how_long_where_from_and_how_far_verified() -> None:
    """The number, the key of its source, and in words how it was checked."""
    call = pushing()["call"]

    assert minutes(call) == (20, None)
    assert call.source in DEFAULT.sources
    assert call.seen == "excerpt of the source read"
    assert (call.title, call.clock) == ("Strong contractions, no pup", "main")


def test_only_what_had_something_to_judge_is_listed() -> None:
    """A night without a temperature shows no limits for fever."""
    rules = {limit.rule for limit in limits_of(matter_of(told((0, Contraction()))))}

    assert PUSHING in rules
    assert not rules & {"dam-hot", "weight-loss", "birth-weight"}


def test_a_tightened_limit_keeps_the_protocols_own_beside_it() -> None:
    """A risk makes it sooner; what was verified is the protocol's own."""
    call = pushing((-60, Details(flat_faced=True)))["call"]

    assert minutes(call) == (15, 20)
    assert call.seen == "excerpt of the source read"


def test_a_limit_changed_on_the_vets_word_is_in_force() -> None:
    """The number that judged the end of the night is the one that is shown."""
    found = pushing((-60, changed("call", 18)))

    assert minutes(found["call"]) == (18, 20)
    assert minutes(found["watch"]) == (15, None)


def test_a_level_that_the_protocol_does_not_have_is_said_to_be_added() -> None:
    """Nobody looks for a source where there is none."""
    quiet = pushing((-60, changed("call", 40, "log-quiet")), rule="log-quiet")["call"]

    assert minutes(quiet) == (40, None)
    assert (quiet.source, quiet.seen) == (
        "",
        "set for this litter; the protocol has no such limit",
    )


def test_a_change_of_a_clock_that_does_not_exist_rules_nothing() -> None:
    """It stays among the changes and is never shown as a limit."""
    lines = told((0, Contraction()), (-60, changed("call", 5, clock="no such clock")))
    matter = matter_of(lines)

    assert "no such clock" not in {limit.clock for limit in limits_of(matter)}
    assert changes_of(matter)[0].clock == "no such clock"


@pytest.mark.parametrize("night", NIGHTS)
def test_limits_stand_in_the_order_of_the_catalogue(night: str) -> None:
    """Rule by rule; a limit is a length of time, a band a value with its unit, never both."""
    limits = limits_of(matter_of(entries_of(night)))
    places = [[rule.id for rule in RULES].index(limit.rule) for limit in limits]

    assert places == sorted(places)
    for limit in limits:
        assert (limit.span is None) == (limit.value is not None) == bool(limit.when)
        assert bool(limit.unit) == bool(limit.when)


@pytest.mark.parametrize("night", NIGHTS)
def test_every_limit_that_raised_something_is_listed(night: str) -> None:
    """No alert rests on a limit that the paper does not show."""
    matter = matter_of(entries_of(night))
    listed = {(limit.rule, limit.clock, limit.level) for limit in limits_of(matter)}
    reached = {
        (own.spell.rule, own.spell.clock, own.level.word)
        for own in matter.assessment.standings
        if own.start <= matter.verdict.at
    }
    # A rule may raise what it has put together itself, under a clock that has no record.
    recorded = {(one.rule, one.clock, one.level) for one in DEFAULT.limit}
    recorded |= {(one.rule, one.clock, one.level) for one in DEFAULT.band}

    assert reached & recorded <= listed
    assert reached & recorded


def test_of_all_breeds_only_the_one_that_judged_is_listed() -> None:
    """A Labrador's sheet does not show the limits of a Maltese."""
    limits = limits_of(matter_of(entries_of("eight-weeks")))

    assert {limit.clock for limit in limits if limit.rule == "birth-weight"} == {
        "labrador retriever"
    }


def test_a_loss_is_below_zero() -> None:
    """A band of weight loss keeps its sign and its unit."""
    limits = limits_of(matter_of(entries_of("eight-weeks")))
    losses = {(limit.value, limit.unit) for limit in limits if limit.rule == "weight-loss"}

    assert (Decimal(-10), "%") in losses


def test_bands_that_start_a_clock_are_shown_with_it() -> None:
    """What counts as a drop is told beside how long after it labour may take."""
    limits = limits_of(matter_of(entries_of("normal-first-litter")))
    drop = [limit for limit in limits if limit.rule == "temperature-drop-no-labour"]

    assert {bool(limit.when) for limit in drop} == {True, False}


def test_changes_are_told_with_the_word_they_rest_on() -> None:
    """Who said so and why; what a rule that is never relaxed refused is said to be refused."""
    matter = matter_of(
        told(
            (0, Contraction()),
            (1, changed("call", 18)),
            (2, changed("go", 60, "not-breathing")),
            (3, Rest()),
        )
    )
    first, second = changes_of(matter)

    assert (first.entry, first.rule, first.level, first.span, first.by, first.why) == (
        2, PUSHING, "call", timedelta(minutes=18), "Dr Ash", "small",
    )  # fmt: skip
    assert (first.refused, second.refused) == (False, True)


@pytest.mark.parametrize("night", NIGHTS)
def test_each_source_is_named_once_in_order_of_use(night: str) -> None:
    """The list of sources holds what the limits cite, and nothing else."""
    matter = matter_of(entries_of(night))
    limits = limits_of(matter)
    keys = [source.key for source in sources_of(matter, limits)]

    assert keys == list(dict.fromkeys(limit.source for limit in limits if limit.source))
    assert all(source.title for source in sources_of(matter, limits))


def test_a_rule_that_has_not_begun_to_watch_is_left_out() -> None:
    """What only the coming weeks will ask of a pup is no limit of this night."""
    matter = matter_of(told((0, Birth.model_validate({"pup": 1, "weight": 300}))))
    begun = {limit.rule for limit in limits_of(matter)}

    assert "not-doubled" in {spell.rule for spell in matter.assessment.spells}
    assert "not-doubled" not in begun
