"""The afterbirth ledger: who owes, who has settled, what is one too many."""

from boxlamp.model.happenings import Afterbirth, Birth, Caesarean, What
from boxlamp.model.ledger import Ledger
from support.made import told


def ledger_of(*whats: What) -> Ledger:
    """The ledger after these, a minute apart."""
    ledger = Ledger()
    for one in told(*((float(minute), what) for minute, what in enumerate(whats))):
        ledger.take(one)
    return ledger


def owing(ledger: Ledger) -> list[int]:
    return [debt.pup for debt in ledger.owed]


def test_every_pup_owes_one_a_stillborn_too() -> None:
    """Each birth makes a debt, oldest first."""
    assert owing(ledger_of(Birth(pup=1), Birth(pup=2, state="dead"))) == [1, 2]


def test_an_unnamed_afterbirth_settles_the_oldest() -> None:
    """Without a name it is the longest owed one."""
    ledger = ledger_of(Birth(pup=1), Birth(pup=2), Afterbirth())
    assert owing(ledger) == [2]
    assert ledger.debts[1].answer == "seen"
    assert ledger.debts[1].settled is not None
    assert ledger.debts[1].settled.id == 3


def test_a_named_afterbirth_settles_its_own() -> None:
    """With a name it is that pup's, even when another has waited longer."""
    assert owing(ledger_of(Birth(pup=1), Birth(pup=2), Afterbirth(of=2))) == [1]


def test_several_at_once_settle_as_many() -> None:
    """The first goes where it is named, the others to the oldest."""
    ledger = ledger_of(Birth(pup=1), Birth(pup=2), Birth(pup=3), Afterbirth(of=3, count=2))
    assert owing(ledger) == [2]
    assert ledger.passed == 2


def test_eaten_and_not_seen_are_answers() -> None:
    """Both settle; only what was there is counted as passed."""
    ledger = ledger_of(
        Birth(pup=1), Birth(pup=2), Afterbirth(fate="eaten"), Afterbirth(fate="not-seen")
    )
    assert owing(ledger) == []
    assert [debt.answer for debt in ledger.debts.values()] == ["eaten", "not-seen"]
    assert ledger.passed == 1


def test_not_seen_may_turn_into_found() -> None:
    """Found after all, it is no surplus."""
    ledger = ledger_of(Birth(pup=1), Afterbirth(of=1, fate="not-seen"), Afterbirth(of=1))
    assert ledger.debts[1].answer == "seen"
    assert not ledger.surplus


def test_a_second_one_of_the_same_pup_is_one_too_many() -> None:
    """One pup, one afterbirth."""
    ledger = ledger_of(Birth(pup=1), Birth(pup=2), Afterbirth(of=1), Afterbirth(of=1))
    assert [one.id for one in ledger.surplus] == [4]
    assert owing(ledger) == [2]


def test_one_before_its_pup_waits_for_it() -> None:
    """Written down first, it settles the next birth, which then owes nothing."""
    ledger = ledger_of(Afterbirth(), Birth(pup=1), Birth(pup=2))
    assert owing(ledger) == [2]
    assert not ledger.surplus
    assert ledger.debts[1].settled is not None
    assert ledger.debts[1].settled.id == 1


def test_of_two_that_wait_the_older_is_taken_first() -> None:
    """In the order in which they came."""
    ledger = ledger_of(Afterbirth(), Afterbirth(), Birth(pup=1))
    assert [one.id for one in ledger.surplus] == [2]


def test_not_seen_with_nothing_owed_is_no_surplus() -> None:
    """There is nothing of which there could be one too many."""
    ledger = ledger_of(Afterbirth(fate="not-seen"))
    assert not ledger.surplus
    assert ledger.passed == 0


def test_a_name_nobody_was_born_under_counts_as_no_name() -> None:
    """A slip of the number still settles the oldest debt."""
    assert owing(ledger_of(Birth(pup=1), Birth(pup=2), Afterbirth(of=7))) == [2]


def test_a_caesarean_leaves_nothing_owed() -> None:
    """Neither by the pups before it nor by those it delivers."""
    ledger = ledger_of(Birth(pup=1), Afterbirth(), Birth(pup=2), Caesarean(), Birth(pup=3))
    assert owing(ledger) == []
    assert [debt.answer for debt in ledger.debts.values()] == ["seen", "caesarean", "caesarean"]
