"""The story: a litter's entries as they now read, in canonical order, with quick selection."""

from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from functools import cached_property
from itertools import chain
from operator import attrgetter
from typing import TypeVar, cast

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Round, Weight, What
from boxlamp.model.order import corrected, known_at
from boxlamp.model.revived import alive_after_all

Found = TypeVar("Found")


class Story:
    """What is known of one litter: the corrected entries in canonical order.

    A story never changes. Make a new one when an entry is added; use :meth:`until` to ask what
    had happened by some moment and :func:`as_known` for what had been typed by then.
    """

    def __init__(self, entries: Iterable[Entry] = ()) -> None:
        self.entries: tuple[Entry, ...] = tuple(_told_apart(alive_after_all(corrected(entries))))
        self._picked: dict[tuple[type[What], ...], tuple[Entry, ...]] = {}
        self._found: dict[object, object] = {}

    @classmethod
    def _of_sorted(cls, entries: tuple[Entry, ...]) -> "Story":
        story = cls()
        story.entries = entries
        return story

    def __len__(self) -> int:
        return len(self.entries)

    @cached_property
    def _places(self) -> dict[type[What], list[int]]:
        places: dict[type[What], list[int]] = {}
        for place, entry in enumerate(self.entries):
            places.setdefault(type(entry.what), []).append(place)
        return places

    def of(self, *kinds: type[What]) -> tuple[Entry, ...]:
        """The entries of these kinds, in canonical order."""
        found = self._picked.get(kinds)
        if found is None:
            here = self._places
            runs = [here[kind] for kind in dict.fromkeys(kinds) if kind in here]
            # Python's sort merges runs that are in order already.
            places = runs[0] if len(runs) == 1 else sorted(chain.from_iterable(runs))
            found = self._picked[kinds] = tuple(map(self.entries.__getitem__, places))
        return found

    def once(self, key: object, find: Callable[[], Found]) -> Found:
        """What ``find`` finds in this story; a story never changes, so it is sought only once.

        ``key`` says what is sought, with everything but the story that the answer rests on.
        """
        if key not in self._found:
            self._found[key] = find()
        return cast("Found", self._found[key])

    def last(self, *kinds: type[What]) -> Entry | None:
        """The latest entry of these kinds, if there is one."""
        found = self.of(*kinds)
        return found[-1] if found else None

    def until(self, moment: datetime) -> "Story":
        """The story of what had happened by ``moment``, with all later corrections applied."""
        after = bisect_right(self.entries, moment, key=attrgetter("at"))
        return Story._of_sorted(self.entries[:after])

    def begun_with(self, entry: Entry) -> "Story":
        """The story with one more entry before all others; it must not be later than they are."""
        return Story._of_sorted((entry, *self.entries))


def _told_apart(entries: Iterable[Entry]) -> Iterator[Entry]:
    """The entries with each weighing round told as its weights, all under the round's number."""
    for entry in entries:
        if isinstance(entry.what, Round):
            for one in entry.what.weights:
                yield entry.model_copy(update={"what": Weight(pup=one.pup, grams=one.grams)})
        else:
            yield entry


def as_known(entries: Iterable[Entry], moment: datetime) -> Story:
    """The story as it was known at ``moment``: only what had been typed by then."""
    return Story(known_at(entries, moment)).until(moment)
