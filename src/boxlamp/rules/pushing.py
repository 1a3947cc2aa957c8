"""The clock that strong and weak contractions share, and what a rest keeps of it."""

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import Literal, NamedTuple

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Caesarean, Contraction, Finished, Rest
from boxlamp.model.spans import in_words
from boxlamp.model.story import Story
from boxlamp.rules.spell import Spell, Stopwatch, Yardstick, span


class Turn(NamedTuple):
    """An entry that begins, takes up or stops pushing, and the push from which it counts.

    A night of short rests has hundreds of pushes in one spell: the first and the newest explain
    it, and the others are in the record.
    """

    entry: Entry
    change: Literal["begun", "resumed", "rested", "over"]
    since: datetime
    first: int


def turns(
    story: Story,
    yardstick: Yardstick,
    rule: str,
    strengths: tuple[str, ...],
    unless: Callable[[Entry], bool] = lambda _entry: False,
) -> Iterator[Turn]:
    """What becomes of pushing of the given strengths, from one push until a birth or a rest.

    A rest shorter than the protocol's ``short-rest`` was a pause and not an end: the next push
    goes on counting from where the pushing began. An entry for which ``unless`` holds ends nothing.
    """
    short_rest = span(yardstick, rule, "short-rest")
    pushes = rested = None
    for entry in story.of(Contraction, Rest, Birth, Caesarean, Finished):
        match entry.what:
            case Contraction(strength=strength) if strength in strengths:
                if pushes is not None:
                    continue
                if rested is not None and entry.at - rested.entry.at < short_rest:
                    pushes = Turn(entry, "resumed", rested.since, rested.first)
                else:
                    pushes = Turn(entry, "begun", entry.at, entry.id)
                yield pushes
                rested = None
            case Contraction():
                pass  # the other strength: the other rule's business
            case Rest():
                if pushes is not None:
                    rested = pushes._replace(entry=entry, change="rested")
                    pushes = None
                    yield rested
            case _ if not unless(entry):
                pushes = rested = None
                yield Turn(entry, "over", entry.at, entry.id)


def pushing(
    story: Story,
    yardstick: Yardstick,
    rule: str,
    strengths: tuple[str, ...],
    unless: Callable[[Entry], bool] = lambda _entry: False,
) -> Iterator[Spell]:
    """Spells of pushing of the given strengths, from the first push until a birth or a rest."""
    watch = Stopwatch(rule)
    for turn in turns(story, yardstick, rule, strengths, unless):
        match turn.change:
            case "begun":
                watch.open(turn.entry)
            case "resumed":
                watch.open(turn.entry, since=turn.since, also=(turn.first,))
            case _:
                watch.close(turn.entry)
    return watch.finish()


def kept(rule: str, pushes: Iterator[Turn]) -> Iterator[Spell]:
    """From each rest that ends such pushing: the pushing's clock, held where it stopped.

    It ends with what ends the pushing, the rest aside, and when the rest was only a pause.
    """
    rests: dict[datetime, Stopwatch] = {}  # by the push from which each counts
    for turn in pushes:
        match turn.change:
            case "rested":
                rest = rests.setdefault(turn.since, Stopwatch(rule, held=True))
                lasted = in_words(turn.entry.at - turn.since)
                rest.open(turn.entry, since=turn.since, also=(turn.first,), detail=lasted)
            case "resumed":  # it was a pause: the pushing counts on
                rests[turn.since].close(turn.entry)
            case "over":
                for rest in rests.values():
                    rest.close(turn.entry)
                    yield from rest.finish()
                rests.clear()
            case _:
                pass  # new pushing takes back no call of the old
    for rest in rests.values():
        yield from rest.finish()
