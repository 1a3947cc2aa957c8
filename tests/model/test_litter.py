"""The litter folded from its story."""

from datetime import timedelta
from decimal import Decimal

import pytest

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Caesarean,
    Contraction,
    Death,
    Details,
    Expect,
    Feed,
    Finished,
    Note,
    PupState,
    Scan,
    Score,
    Settled,
    Sexed,
    Sign,
    Step,
    VetContact,
    Waters,
    Weight,
    What,
)
from boxlamp.model.litter import Litter, fold
from boxlamp.model.story import Story
from support.made import at, told


def litter_of(*lines: tuple[float, What]) -> Litter:
    return fold(Story(told(*lines)))


def test_the_phases_of_a_whelping() -> None:
    """Waiting, first stage, labour, over; each with the moment it began."""
    lines: list[tuple[float, What]] = [
        (0, Sign(signs=("nesting",))),
        (10, Sign(signs=("panting",))),
        (60, Waters()),
        (70, Contraction()),
        (90, Finished()),
    ]
    found = [
        (litter.phase, litter.phase_since)
        for litter in (litter_of(*lines[:count]) for count in range(6))
    ]
    assert found == [
        ("waiting", None),
        ("first stage", at(0)),
        ("first stage", at(0)),
        ("labour", at(60)),
        ("labour", at(60)),
        ("after whelping", at(90)),
    ]


def test_settled_ends_first_stage_signs_only() -> None:
    """She settles again before labour; in labour the word changes nothing."""
    assert litter_of((0, Sign(signs=("nesting",))), (9, Settled())).phase == "waiting"
    assert litter_of((0, Waters()), (9, Settled())).phase == "labour"


def test_signs_in_labour_do_not_lead_back() -> None:
    """Panting between two pups is no first stage."""
    assert litter_of((0, Waters()), (9, Sign(signs=("panting",)))).phase == "labour"


def test_labour_remembers_when_it_began() -> None:
    """Also when `finished` came too early and it went on."""
    litter = litter_of((0, Contraction()), (30, Finished()), (40, Birth(pup=1)))
    assert (litter.phase, litter.labour_since) == ("labour", at(0))


def test_a_better_count_is_not_replaced_by_a_worse_one() -> None:
    """An x-ray outranks a scan, a scan a guess; the newest of equals counts."""
    litter = litter_of(
        (0, Scan(method="ultrasound", count=5)),
        (1, Expect(count=9)),
    )
    assert (litter.expected, litter.expected_by) == (5, "scan")
    litter = litter_of(
        (0, Expect(count=4, method="xray")),
        (1, Expect(count=5, method="scan")),
        (2, Scan(method="xray", count=6)),
        (3, Scan(method="xray")),
    )
    assert (litter.expected, litter.expected_by) == (6, "xray")


def test_details_add_up() -> None:
    """A later line adds to or replaces what an earlier one said."""
    litter = litter_of(
        (0, Details(dam="Ash", breed="Pug")), (1, Details(breed="Boxer", first_litter=False))
    )
    assert litter.details == Details(dam="Ash", breed="Boxer", first_litter=False)


def test_a_pup_and_everything_said_of_it() -> None:
    """Each line about a pup lands on that pup."""
    litter = litter_of(
        (0, Birth(pup=1)),
        (1, Birth(pup=2, sex="dog", state="limp", mark="red")),
        (2, Sexed(pup=1, sex="bitch")),
        (3, Weight(pup=1, grams=Decimal(310))),
        (4, Step(pup=1, step="marked", finding="blue")),
        (5, Step(pup=1, step="cord", finding="tied")),
        (6, Score(pup=1, items=(2, 2, None, 1, 2))),
        (7, PupState(pup=1, signs=("crying",))),
        (8, Weight(pup=1, grams=Decimal(320))),
        (9, Feed(pup=1, how="bottle")),
    )
    pup = litter.pups[1]
    assert (pup.sex, pup.mark, pup.name) == ("bitch", "blue", "pup 1 (marked blue)")
    assert (pup.birth_weight, pup.weight, pup.weighed) == (Decimal(310), Decimal(320), at(8))
    assert pup.steps == {"marked": (at(4), "blue"), "cord": (at(5), "tied")}
    assert pup.score == (2, 2, None, 1, 2)
    assert pup.signs == ("crying",)
    assert litter.pups[2].state == "limp"
    assert litter.pups[2].name == "pup 2 (marked red)"


def test_a_feed_at_the_teat_is_first_milk() -> None:
    """The first one, that is; and it does not move an earlier `milk`."""
    litter = litter_of((0, Birth(pup=1)), (5, Feed(pup=1)), (9, Feed(pup=1)))
    assert litter.pups[1].steps["milk"] == (at(5), "")


def test_the_dead_are_counted_apart() -> None:
    """Born dead or died since: born, but not alive; the first report of a death counts."""
    litter = litter_of(
        (0, Birth(pup=1, state="dead")),
        (1, Birth(pup=2)),
        (2, Birth(pup=3)),
        (5, Death(pup=2)),
        (6, Death(pup=2)),
    )
    assert (litter.born, litter.alive) == (3, 1)
    assert litter.pups[2].died == at(5)


def test_a_line_about_a_pup_nobody_has_written_down_changes_nothing() -> None:
    """It stays in the record, and the litter is as it was."""
    litter = litter_of((0, Birth(pup=1)), (1, Death(pup=7)), (2, Step(pup=7, step="milk")))
    assert list(litter.pups) == [1]
    assert litter.alive == 1


def test_a_weight_of_the_dam_is_no_pup_weight() -> None:
    """A weight without a pup lands on none."""
    assert litter_of((0, Birth(pup=1)), (1, Weight(grams=Decimal(31000)))).pups[1].weight is None


def test_pups_by_caesarean_are_marked_and_begin_no_labour() -> None:
    """Nothing is owed by them, and a finished whelping stays finished."""
    litter = litter_of((0, Caesarean()), (1, Finished()), (2, Birth(pup=1)))
    assert litter.pups[1].by_caesarean
    assert litter.phase == "after whelping"
    assert litter.afterbirth_of(1) == "caesarean"
    assert litter.caesarean == at(0)


def test_afterbirths_by_pup() -> None:
    """The answer for each pup; one not born yet owes."""
    litter = litter_of((0, Birth(pup=1)), (1, Birth(pup=2)), (2, Afterbirth(fate="eaten")))
    assert [litter.afterbirth_of(pup) for pup in (1, 2, 3)] == ["eaten", "owed", "owed"]


def test_a_forgotten_birth_takes_its_place_in_time_and_keeps_its_number() -> None:
    """Numbers follow the writing down, the order follows the birth."""
    litter = litter_of((10, Birth(pup=1)), (5, Birth(pup=2)))
    assert [pup.number for pup in litter.in_order] == [2, 1]
    assert litter.last_birth == at(10)
    assert Litter().last_birth is None


def test_the_first_push_since_the_last_birth() -> None:
    """It is remembered until the next birth, while the last push moves on."""
    lines: list[tuple[float, What]] = [(0, Contraction()), (5, Contraction()), (9, Birth(pup=1))]
    pushing = litter_of(*lines[:2])
    assert pushing.first_push is not None
    assert pushing.last_contraction is not None
    assert (pushing.first_push.id, pushing.last_contraction.id) == (1, 2)
    assert litter_of(*lines).first_push is None


def test_the_vet_is_with_her_from_arriving_until_rung_again() -> None:
    """Arrived counts; being called, advised or driven to does not; the end of it ends it."""

    def with_vet(*contacts: VetContact | Finished) -> bool:
        story = Story(told(*((minute, what) for minute, what in enumerate(contacts))))
        return fold(story).with_vet(story.entries[-1].at)

    assert not with_vet(VetContact(contact="called"))
    assert with_vet(VetContact(contact="called"), VetContact(contact="arrived"))
    assert not with_vet(VetContact(contact="arrived"), VetContact(contact="called"))
    assert not with_vet(VetContact(contact="arrived"), Finished())


def test_a_vet_of_whom_nobody_writes_again_is_not_with_her_for_ever() -> None:
    """After four hours nothing says any more that help is in the room: nobody writes a goodbye."""
    story = Story(told((0, VetContact(contact="arrived"))))
    came, visit = story.entries[0].at, timedelta(hours=4)

    assert fold(story).with_vet(came + visit - timedelta(seconds=1))
    assert not fold(story).with_vet(came + visit)


ON_THE_WAY = (
    (VetContact(contact="called"), True),
    (VetContact(contact="advised", said="go on"), True),
    (Birth(pup=1), True),
    (Note(words="we are nearly there"), True),
    (VetContact(contact="arrived"), False),
    (VetContact(contact="seen"), False),
    (Caesarean(), False),
    (Finished(), False),
    (Note(words="Home again, all is well"), False),
)


@pytest.mark.parametrize(("then", "driving"), ON_THE_WAY, ids=lambda value: str(value)[:40])
def test_who_has_left_is_on_the_way_until_there_or_home(then: What, driving: bool) -> None:  # noqa: FBT001
    """Ringing and a pup on the road change nothing; an arrival, the end of it and home do."""
    story = Story(told((0, VetContact(contact="left-for")), (10, then)))

    assert fold(story).on_the_way(story.entries[-1].at) is driving


def test_who_is_home_again_has_no_vet_with_her() -> None:
    """The vet who was with her has stayed behind."""
    story = Story(told((0, VetContact(contact="arrived")), (60, Note(words="back home"))))

    assert not fold(story).with_vet(story.entries[-1].at)


@pytest.mark.parametrize(
    ("said", "comes"),
    [("coming", True), ("Coming in 20 min", True), ("coming; 20 minutes", True),
     ("on the way", True), ("on her way", True), ("on way", True),
     ("coming in now", False), ("coming in", False), ("on my way", False),
     ("come at once", False), ("come in", False), ("comings", False), ("", False),
     ("coming tomorrow", False), ("coming no", False), ("on way home", False),
     ("coming later", False), ("not coming", False), ("can't come", False)],
)  # fmt: skip
def test_a_vet_who_is_coming_is_told_from_whoever_drives(said: str, comes: bool) -> None:  # noqa: FBT001
    """Who writes that they come in, or are on their own way, says nothing of the vet's."""
    story = Story(told((0, VetContact(contact="called", said=said))))

    assert fold(story).awaits_vet(story.entries[-1].at) is comes


@pytest.mark.parametrize(
    ("then", "waits"),
    [(VetContact(contact="called"), True), (Birth(pup=1), True),
     (VetContact(contact="called", said="cannot come, bring her"), False),
     (VetContact(contact="advised", said="bring her in"), False),
     (VetContact(contact="arrived"), False), (VetContact(contact="seen"), False),
     (VetContact(contact="left-for"), False), (Caesarean(), False), (Finished(), False)],
)  # fmt: skip
def test_the_vet_is_waited_for_until_newer_words_or_an_arrival(then: What, waits: bool) -> None:  # noqa: FBT001
    """A pup or a call without words changes nothing."""
    story = Story(told((0, VetContact(contact="called", said="coming")), (10, then)))

    assert fold(story).awaits_vet(story.entries[-1].at) is waits


def test_nobody_waits_for_the_vet_for_ever() -> None:
    """After two hours without a word the vet may not be coming."""
    story = Story(told((0, VetContact(contact="called", said="coming"))))
    rung, wait = story.entries[0].at, timedelta(hours=2)

    assert fold(story).awaits_vet(rung + wait - timedelta(seconds=1))
    assert not fold(story).awaits_vet(rung + wait)
    assert not fold(story).awaits_vet(rung + wait + timedelta(seconds=1))


def test_nobody_is_on_the_way_for_ever() -> None:
    """After four hours without a word they may as well have turned back."""
    story = Story(told((0, VetContact(contact="left-for"))))
    left, drive = story.entries[0].at, timedelta(hours=4)

    assert fold(story).on_the_way(left + drive - timedelta(seconds=1))
    assert not fold(story).on_the_way(left + drive)
    assert not fold(Story(told((0, Birth(pup=1))))).on_the_way(left)
