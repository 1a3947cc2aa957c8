"""The commonest shape of a rule: a clock that one kind of entry starts and others stop."""

from collections.abc import Callable, Iterator

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Finished, What
from boxlamp.model.story import Story
from boxlamp.rules.spell import Spell, Stopwatch


def only_said(entry: Entry) -> bool:
    """Whether this is the breeder's word that it is over, without anybody having looked inside.

    It ends the clocks that wait for a next pup. It does not end those that are never relaxed
    and run because of something seen: strong pushing, a part of a pup at the vulva.
    """
    return isinstance(entry.what, Finished) and entry.what.by == "breeder"


def from_until(
    story: Story,
    rule: str,
    *,
    opens: tuple[type[What], ...],
    closes: tuple[type[What], ...],
    unless: Callable[[Entry], bool] = lambda _entry: False,
) -> Iterator[Spell]:
    """Spells that run from an entry of ``opens`` until the next one of ``closes``.

    An entry for which ``unless`` holds closes nothing after all.
    """
    watch = Stopwatch(rule)
    for entry in story.of(*opens, *closes):
        if isinstance(entry.what, opens):
            watch.open(entry)
        elif not unless(entry):
            watch.close(entry)
    return watch.finish()
