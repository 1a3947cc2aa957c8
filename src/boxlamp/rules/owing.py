"""The afterbirth ledger as it stood after each entry that changed it."""

from collections.abc import Iterator

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Afterbirth, Birth, Caesarean
from boxlamp.model.ledger import Ledger
from boxlamp.model.story import Story


def settling(story: Story) -> Iterator[tuple[Entry, Ledger]]:
    """Each birth, afterbirth and caesarean with the ledger after it: one ledger, growing."""
    ledger = Ledger()
    for entry in story.of(Birth, Afterbirth, Caesarean):
        ledger.take(entry)
        yield entry, ledger
