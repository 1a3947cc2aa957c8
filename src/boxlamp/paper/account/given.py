"""What was given and what passed between the house and the vet, in the words it was typed in."""

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Treatment, VetContact
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.models import Contact, Given


def given_of(matter: Matter) -> tuple[Given, ...]:
    """Every treatment, oldest first. How much of it stands only where the breeder typed it."""
    return tuple(
        Given(
            entry=entry.id,
            at=entry.at,
            estimated=_estimated(entry),
            what=_with_note(entry.what.what, entry),
            by=entry.what.by,
        )
        for entry in matter.verdict.story.of(Treatment)
        if isinstance(entry.what, Treatment)
    )


def contacts_of(matter: Matter) -> tuple[Contact, ...]:
    """Everything that passed between the vet and this house, oldest first."""
    return tuple(
        Contact(
            entry=entry.id,
            at=entry.at,
            estimated=_estimated(entry),
            contact=entry.what.contact,
            said=_with_note(entry.what.said, entry),
        )
        for entry in matter.verdict.story.of(VetContact)
        if isinstance(entry.what, VetContact)
    )


def _estimated(entry: Entry) -> bool:
    return entry.certainty != "seen"


def _with_note(words: str, entry: Entry) -> str:
    """The words with the note behind the line: it may be what the vet has to know."""
    return "; ".join(filter(None, (words, entry.note)))
