"""The clock that strong and weak contractions share."""

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Caesarean, Contraction, Finished, Rest
from boxlamp.model.story import Story
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick, span


class _Pause(NamedTuple):
    """A rest that may turn out to be short: when it began, and the clock it stopped.

    ``first`` is the push from which that clock counts. A night of short rests has hundreds of
    pushes in one spell: the first and the newest explain it, and the others are in the record.
    """

    at: datetime
    since: datetime
    first: int


def pushing(
    story: Story,
    yardstick: Yardstick,
    rule: str,
    strengths: tuple[str, ...],
    unless: Callable[[Entry], bool] = lambda _entry: False,
) -> Iterator[Spell]:
    """Spells of pushing of the given strengths, from the first push until a birth or a rest.

    A rest shorter than the protocol's ``short-rest`` was a pause and not an end: the next push
    goes on counting from where the pushing began. An entry for which ``unless`` holds ends nothing.
    """
    short_rest = span(yardstick, rule, "short-rest")
    watch = Stopwatch(rule)
    pause: _Pause | None = None
    for entry in story.of(Contraction, Rest, Birth, Caesarean, Finished):
        match entry.what:
            case Contraction(strength=strength) if strength in strengths:
                if pause is not None and entry.at - pause.at < short_rest:
                    watch.open(entry, since=pause.since, also=(pause.first,))
                else:
                    watch.open(entry)
                pause = None
            case Contraction():
                pass  # the other strength: the other rule's business
            case Rest():
                if watch.since is not None:
                    pause = _Pause(entry.at, watch.since, watch.opened[0])
                watch.close(entry)
            case _ if not unless(entry):
                watch.close(entry)
                pause = None
    return watch.finish()
