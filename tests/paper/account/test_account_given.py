from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Caesarean, Contraction, Strike, Treatment, VetContact
from boxlamp.paper.account.given import contacts_of, given_of
from boxlamp.paper.account.models import Contact, Given
from support.accounts import matter_of
from support.made import at, entry, told


def test_treatments_are_told_as_typed() -> None:
    """What was given, when, by whom: the words of whoever typed it and no others."""
    matter = matter_of(
        told((0, Treatment(what="sugar water", by="Ann")), (5, Treatment(what="something")))
    )

    assert given_of(matter) == (
        Given(entry=1, at=at(0), estimated=False, what="sugar water", by="Ann"),
        Given(entry=2, at=at(5), estimated=False, what="something", by=""),
    )


def test_a_note_behind_a_treatment_goes_with_it() -> None:
    """How much it was may stand in the note, and the vet has to know it."""
    drafted = Draft(
        at=at(0),
        certainty="estimated",
        note="a few drops on the gums",
        what=Treatment(what="syrup"),
    )
    [given] = given_of(matter_of([drafted.numbered(1, "ash", at(9))]))

    assert (given.what, given.estimated) == ("syrup; a few drops on the gums", True)


def test_what_was_withdrawn_was_not_given() -> None:
    """Corrections count: only what the record now says is told."""
    entries = (entry(1, 0, Treatment(what="syrup")), entry(2, 3, Strike(target=1)))

    assert given_of(matter_of(entries)) == ()


def test_contacts_are_told_in_order() -> None:
    """Everything between the vet and this house, and what was said."""
    matter = matter_of(
        told(
            (9, VetContact(contact="left-for")),
            (0, Contraction()),
            (5, VetContact(contact="called", said="come at once")),
            (60, Caesarean()),
        )
    )

    assert contacts_of(matter) == (
        Contact(entry=3, at=at(5), estimated=False, contact="called", said="come at once"),
        Contact(entry=1, at=at(9), estimated=False, contact="left-for", said=""),
    )


def test_nothing_given_and_nobody_rung_is_empty() -> None:
    """Nothing is invented."""
    matter = matter_of(told((0, Contraction())))

    assert (given_of(matter), contacts_of(matter)) == ((), ())


def test_a_day_is_no_time_seen_on_a_clock() -> None:
    """Where only the day is known the time is an estimate."""
    drafted = Draft(at=at(0), certainty="day", what=VetContact(contact="seen"))
    [contact] = contacts_of(matter_of([drafted.numbered(1, "ash", at(9))]))

    assert contact.estimated
