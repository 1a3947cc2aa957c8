"""The commonest shape of a rule: a clock that one kind of entry starts and others stop."""

from collections.abc import Iterator

from boxlamp.model.happenings import What
from boxlamp.model.levels import DAM
from boxlamp.model.story import Story
from boxlamp.rules.spell import Spell, Stopwatch


def from_until(
    story: Story,
    rule: str,
    *,
    opens: tuple[type[What], ...],
    closes: tuple[type[What], ...],
    subject: str = DAM,
) -> Iterator[Spell]:
    """Spells that run from an entry of ``opens`` until the next one of ``closes``."""
    watch = Stopwatch(rule, subject)
    for entry in story.of(*opens, *closes):
        if isinstance(entry.what, opens):
            watch.open(entry)
        else:
            watch.close(entry)
    return watch.finish()
