"""The plan before the birth and what follows it: every day worked out by hand."""

from datetime import date, timedelta

import pytest

from boxlamp.model.happenings import (
    Caesarean,
    Death,
    Details,
    Expect,
    Finished,
    Kit,
    Limit,
    Milestone,
    VetContact,
)
from boxlamp.planning.items import PlanItem
from boxlamp.planning.kit import ITEMS
from boxlamp.planning.outlook import Outlook
from boxlamp.protocol.records import SEEN_WORDS
from support.nights import DEFAULT
from support.weeks import (
    DIOESTRUS,
    LH,
    MATED,
    OVULATED,
    Told,
    born,
    dam,
    day,
    scan,
    seen_on,
)

IN_TIME = day(40)


def by_id(items: tuple[PlanItem, ...]) -> dict[str, PlanItem]:
    """The items by their names, which must be unique."""
    found = {item.id: item for item in items}
    assert len(found) == len(items)
    return found


def days_of(view: Outlook) -> dict[str, tuple[int, int]]:
    """First and last day of every item, counted from the first of January."""
    zero = day(0)
    return {
        item.id: ((item.first - zero).days, (item.last - zero).days)
        for item in (*view.plan, *view.follow)
    }


OVULATION_PLAN = {
    # due on day 63: two weeks, days 55 to 57, a week, from a week to three days, and the rest
    "tell-vet": (49, 49), "xray": (55, 57), "kit": (56, 56), "temperature": (56, 59),
    "temperature-often": (60, 63), "not-early": (61, 61), "due": (63, 63),
    "overdue-watch": (64, 64), "overdue-call": (66, 66),
}  # fmt: skip


def test_the_plan_from_ovulation() -> None:
    """Every line of it, in order."""
    view = seen_on(IN_TIME, (0, OVULATED))

    assert days_of(view) == OVULATION_PLAN
    assert [item.first for item in view.plan] == sorted(item.first for item in view.plan)
    assert view.ahead == view.plan


@pytest.mark.parametrize(
    ("told", "due", "early", "watch", "call"),
    [
        ((0, LH), 65, 63, 66, 67),
        ((0, DIOESTRUS), 57, 55, 58, 60),
        ((0, MATED), 63, 58, 65, 70),
        ((38, scan("icc", 30)), 65, 63, 66, 67),
        ((50, scan("bpd", 20)), 65, 63, 66, 67),
    ],
)
def test_the_limits_of_each_basis(told: Told, due: int, early: int, watch: int, call: int) -> None:
    """What is early and what is late is asked of the same limits that raise the alarms."""
    found = days_of(seen_on(IN_TIME, (0, dam(kilos=20)), told))

    assert (found["due"][0], found["not-early"][0]) == (due, early)
    assert (found["overdue-watch"][0], found["overdue-call"][0]) == (watch, call)


def test_a_limit_changed_on_a_vets_word_moves_the_plan() -> None:
    """The plan shows the limits in force, and says that one was changed."""
    changed = Limit(rule="overdue", clock="ovulation", level="call", seconds=65 * 86400,
                    by="Dr X", why="small litter")  # fmt: skip
    view = seen_on(IN_TIME, (0, OVULATED), (1, changed))

    assert days_of(view)["overdue-call"] == (65, 65)
    assert "Changed for her on a vet's word" in by_id(view.plan)["overdue-call"].note


def test_risks_are_named_where_the_vet_is_told() -> None:
    """A vet who knows beforehand can plan."""
    plain, pug = (by_id(seen_on(IN_TIME, (0, OVULATED), (1, who)).plan)["tell-vet"].note
                  for who in (dam(breed="Labrador"), dam(breed="Pug")))  # fmt: skip

    assert "flat-faced breed" in pug
    assert "tightened" not in plain


def test_what_is_done_is_marked() -> None:
    """The x-ray once pups were counted on one, the kit once nothing is missing."""
    ready = [(2, Kit(item=item.id)) for item in ITEMS]
    before = by_id(seen_on(IN_TIME, (0, OVULATED), *ready[1:]).plan)
    after = by_id(seen_on(IN_TIME, (0, OVULATED), *ready, (3, Expect(count=6, method="xray"))).plan)

    assert (before["xray"].state, before["kit"].state) == ("", "")
    assert (after["xray"].state, after["kit"].state) == ("done", "done")


def test_every_day_has_a_source_or_is_marked() -> None:
    """No line without its record, and no unsourced record that does not say so."""
    view = seen_on(day(70), (0, OVULATED), (62, born()))
    for item in (*view.plan, *view.follow):
        assert item.record.seen in SEEN_WORDS
        assert item.record.source in DEFAULT.sources or item.record.seen in {"C", "P", "M"}
        assert item.first <= item.last


FOLLOW = {
    "vet-check": (62, 63), "dam-temperature": (62, 76), "weigh-daily": (62, 76),
    "weigh-third-day": (77, 90), "cord-off": (67, 67),
    "worming-1": (76, 76), "eyes-open": (79, 79), "ears-open": (81, 81), "walking": (83, 83),
    "toilet": (85, 85), "worming-2": (90, 90), "worming-3": (104, 104), "vaccinated": (104, 104),
    "chipped": (111, 111), "worming-4": (118, 118), "worming-5": (132, 132),
    "worming-6": (146, 146),
}  # fmt: skip


def test_what_follows_the_birth() -> None:
    """Every day counted from the first birth; the plan is no longer what lies ahead."""
    view = seen_on(day(63), (0, OVULATED), (62, born()))

    assert view.born == day(62)
    assert view.ahead == view.follow
    assert {name: span for name, span in days_of(view).items() if name in FOLLOW} == FOLLOW
    assert set(FOLLOW) == {item.id for item in view.follow}


def test_after_the_birth_what_had_not_come_is_off() -> None:
    """What lay before it stands as it was; a calendar has to take back the rest."""
    view = seen_on(day(63), (0, OVULATED), (62, born()))
    off = {item.id for item in view.plan if item.state == "off"}
    on_the_day = by_id(seen_on(day(63), (0, OVULATED), (63, born())).plan)

    assert (on_the_day["due"].state, on_the_day["overdue-watch"].state) == ("", "off")
    assert off == {"due", "overdue-watch", "overdue-call"}
    assert {name: span for name, span in days_of(view).items() if name in OVULATION_PLAN} == (
        OVULATION_PLAN
    )


@pytest.mark.parametrize(
    ("told", "alive"),
    [
        (((62, born()), (63, Death(pup=1))), False),
        (((62, born()), (63, Milestone(milestone="left-home", pup=1))), False),
        (((62, born()), (62, born(2)), (63, Death(pup=1))), True),
        (((62, Caesarean()),), False),
        (((62, Finished()),), False),
    ],
)
def test_without_a_pup_in_the_house_nothing_is_due_for_pups(
    told: tuple[Told, ...], *, alive: bool
) -> None:
    """Nobody is asked to worm the dead. The dam is still to be looked after."""
    view = seen_on(day(64), (0, OVULATED), *told)
    due = {item.id for item in view.follow if item.state != "off"}

    assert view.born == day(62)
    assert {"vet-check", "dam-temperature"} <= due
    assert ("weigh-daily" in due) == ("worming-1" in due) == ("chipped" in due) == alive


def test_what_was_reached_is_done_only_when_all_have_reached_it() -> None:
    """One pup's eyes are not the litter's; wormings are counted by the days on which they were."""
    litter = [(62, born()), (62, born(2))]

    def states(*more: Told) -> dict[str, str]:
        return {i.id: i.state for i in seen_on(day(90), (0, OVULATED), *litter, *more).follow}

    one = states((75, Milestone(milestone="eyes-open", pup=1)))
    both = states((75, Milestone(milestone="eyes-open")))
    wormed = states(
        (76, Milestone(milestone="wormed")), (76, Milestone(milestone="wormed", pup=1)),
        (90, Milestone(milestone="wormed", pup=2)),
    )  # fmt: skip

    assert (one["eyes-open"], both["eyes-open"], both["ears-open"]) == ("", "done", "")
    assert [wormed[f"worming-{number}"] for number in (1, 2)] == ["done", ""]


@pytest.mark.parametrize(
    ("told", "done"),
    [
        ((62, VetContact(contact="seen")), True), ((63, VetContact(contact="arrived")), True),
        ((62, Finished(by="vet")), True), ((62, Finished()), False),
        ((60, VetContact(contact="seen")), False), ((63, VetContact(contact="called")), False),
    ],
)  # fmt: skip
def test_the_vets_look_is_done_once_a_vet_has_seen_her(told: Told, *, done: bool) -> None:
    """Seen after the last birth, or the whelping ended by a vet; a telephone call is no look."""
    found = by_id(seen_on(day(64), (0, OVULATED), (62, born()), told).follow)

    assert (found["vet-check"].state == "done") == done


def test_days_pass() -> None:
    """An item is over the day after its last one."""
    item = by_id(seen_on(IN_TIME, (0, OVULATED)).plan)["xray"]

    assert not item.over(day(57))
    assert item.over(day(58))
    assert item.last - item.first == timedelta(days=2)


def test_nothing_known_is_no_plan() -> None:
    """Without a date there is nothing to plan, and that is no failure."""
    view = seen_on(date(2026, 3, 1), (0, Details(dam="Ash")))

    assert (view.plan, view.follow, view.born, view.dates.driver) == ((), (), None, None)
