"""The clock of the two gap rules: how long since the last pup, and whether more will come."""

from collections.abc import Callable, Iterator

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Caesarean, Expect, Finished, Scan
from boxlamp.model.litter import Litter, take
from boxlamp.model.story import Story
from boxlamp.rules.spell import Spell, Stopwatch


def gaps(story: Story, rule: str, wanted: Callable[[Litter], str]) -> Iterator[Spell]:
    """Spells since the last birth while ``wanted`` has something to say about the litter.

    A gap ends at the next birth, which begins another one, and at a caesarean or when the
    whelping is finished, which begin none. What is known of the number may change in the
    middle of a gap; the clock counts from the last birth all the same. ``wanted`` gives the
    detail of the alert, or nothing when this rule's clock does not run.
    """
    watch, litter = Stopwatch(rule), Litter()
    last: Entry | None = None
    for entry in story.of(Expect, Scan, Birth, Caesarean, Finished):
        take(litter, entry)
        if isinstance(entry.what, Birth | Caesarean | Finished):
            watch.close(entry)
            opens = isinstance(entry.what, Birth) and litter.caesarean is None
            last = entry if opens else None
        detail = wanted(litter) if last is not None else ""
        if last is not None and detail != watch.detail:
            watch.close(entry)
            _reopen(watch, entry, last, detail)
    return watch.finish()


def _reopen(watch: Stopwatch, entry: Entry, last: Entry, detail: str) -> None:
    if detail:
        also = () if last is entry else (last.id,)
        watch.open(entry, since=last.at, also=also, detail=detail)


def to_come(litter: Litter) -> int:
    """How many pups the best count says are still to come; 0 when reached or not known."""
    return max(0, (litter.expected or 0) - litter.born)


def unsure(litter: Litter) -> bool:
    """Whether nobody can say that she has finished: no count, or an unsure one that is reached."""
    return to_come(litter) == 0 and litter.expected_by in {None, "guess", "scan"}
