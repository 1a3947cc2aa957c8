"""What nearly every command needs: the journal open, the litter chosen, the rules run."""

from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta, tzinfo
from pathlib import Path

from boxlamp import outside
from boxlamp.desk.kept import Kept
from boxlamp.engine import Assessment, Verdict, assess
from boxlamp.journal import Journal, default_path, open_journal
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Details, Note
from boxlamp.model.spans import in_words
from boxlamp.model.story import Story, as_known
from boxlamp.model.zones import zone_named

_A_DAY = timedelta(days=1)
_NOTICED = timedelta(seconds=30)
_TIMELESS = ("dam", "vet", "vet_phone", "night_phone", "travel_minutes")


class UsageError(Exception):
    """Something in the call that cannot be done, with what to type instead."""

    exit_code = 2


@dataclass
class Session:
    """One litter of one journal, as it stands now."""

    journal: Journal
    litter: str
    entries: tuple[Entry, ...]
    _assessed: Kept[Assessment] = field(default_factory=Kept)
    _so_far: Kept[Assessment] = field(default_factory=Kept)
    _told_zone: Kept[str] = field(default_factory=Kept)
    _newest: Kept[datetime] = field(default_factory=Kept)

    @property
    def zone_name(self) -> str:
        """The zone of the whelping box: the one last written down, else this computer's."""
        told = self._told_zone.answer((self.entries,), lambda: _zone_told(self.entries))
        return told or outside.local_zone()

    @property
    def zone(self) -> tzinfo:
        """The same as a zone to compute with."""
        return zone_named(self.zone_name)

    def refresh(self) -> None:
        """Read the litter again: another terminal may have written."""
        self.entries = self.journal.entries(self.litter)

    def assess(self) -> Assessment:
        """What the rules make of the litter as it now reads. The rules run once per reading."""
        return self._assessed.answer(
            (self.entries,), lambda: assess(Story(self.entries), outside.default_protocol())
        )

    def present(self, now: datetime) -> datetime:
        """The moment to judge: now, but never before any line was typed.

        When somebody sets the computer's clock back, what was typed has still happened, and an
        alert that stood must not leave the board because of it, nor because of the next line
        under the earlier clock. A line typed when the clock was days ahead counts only while it
        is the last one: else one wrong clock would make every later alert wrong.
        """
        if not self.entries:
            return now
        newest = self._newest.answer(
            (self.entries,), lambda: max(entry.recorded for entry in self.entries)
        )
        if newest - now <= _A_DAY:
            return max(now, newest)  # none is further ahead: asked every second, found once
        typed = [entry.recorded for entry in self.entries]
        near = (moment for moment in typed if moment - now <= _A_DAY)
        return max([now, *near, *typed[-1:]])

    def clock_behind(self, now: datetime) -> str:
        """What to say when the computer's clock stands before lines that were typed; or nothing."""
        behind = self.present(now) - now
        if behind < _NOTICED:
            return ""
        return (
            f"The computer's clock stands {in_words(behind)} before the newest line, so this is "
            "judged as of that line. Check the clock, and put the time first in what you type."
        )

    def verdict(self, now: datetime) -> Verdict:
        """What stands now. An entry that lies ahead of the clock waits for its time."""
        assessment, moment = self.assess(), self.present(now)
        happened = bisect_right(assessment.story.entries, moment, key=lambda entry: entry.at)
        if happened < len(assessment.story.entries):
            # The same until the next of them has happened, however often it is asked.
            assessment = self._so_far.answer(
                (self.entries, happened), lambda: self.assess_at(moment)
            )
        return assessment.verdict(moment)

    def assess_at(self, moment: datetime, *, known: bool = False) -> Assessment:
        """What the rules make of the litter at another moment.

        With ``known``, only what had been typed by then counts; otherwise later corrections do
        too, and what she is called and whom to ring is known at any moment.
        """
        if known:
            return assess(as_known(self.entries, moment), outside.default_protocol())
        return assess(named(Story(self.entries), moment), outside.default_protocol())


def _zone_told(entries: Sequence[Entry]) -> str:
    """The zone last written down, or nothing."""
    for entry in reversed(entries):
        if isinstance(entry.what, Details) and entry.what.zone:
            return entry.what.zone
    return ""


def named(story: Story, moment: datetime) -> Story:
    """The story until a moment; names and numbers typed only later are known all the same.

    They are no events of the night. Nothing else is taken from later: a risk tightens limits
    from when it was written down, and a breed or a weight is what rules judge by.
    """
    until = story.until(moment)
    if not until.entries:
        return until
    had = [one.what for one in until.of(Details) if isinstance(one.what, Details)]
    lacks = {name for name in _TIMELESS if all(getattr(what, name) is None for what in had)}
    for later in story.of(Details)[len(had) :]:
        said = {
            name: value
            for name in sorted(lacks)
            if (value := getattr(later.what, name)) is not None
        }
        if said:
            what = Details.model_validate(said)
            first = later.model_copy(update={"what": what, "at": until.entries[0].at})
            until = until.begun_with(first)
            lacks -= said.keys()
    return until


@contextmanager
def opened(journal: Path | None) -> Iterator[Journal]:
    """The journal at this path, or the person's own."""
    with open_journal(journal or default_path()) as book:
        yield book


@contextmanager
def session(journal: Path | None, litter: str | None = None) -> Iterator[Session]:
    """The journal open at the litter meant."""
    with opened(journal) as book:
        if litter is None:
            current = book.current()
            if current is None:
                raise UsageError(
                    "There is no litter yet. Open one with `boxlamp new --dam NAME`, or take one "
                    "in with `boxlamp import FILE`."
                )
            litter = current.slug
        else:
            litter = book.litter(litter).slug
        yield Session(book, litter, book.entries(litter))


def moment_of(text: str | None, here: Session, say: Callable[[str], None]) -> datetime:
    """The moment an ``--at`` names, read the way the time of a line is read; now when missing.

    Then ``say`` is told when the computer's clock stands before what was typed.
    """
    if text is None:
        now = outside.now()
        if behind := here.clock_behind(now):
            say(behind)
        return here.present(now)
    return read_moment(text, here.entries, outside.now(), here.zone_name)


def read_moment(text: str, entries: Sequence[Entry], now: datetime, zone: str) -> datetime:
    """The moment these words name, as seen from ``now``, for a litter in that zone."""
    from boxlamp.language import Context, NotUnderstood, read_line

    try:
        draft = read_line(f"{text} note", Context.of(entries, now, zone)).draft
    except NotUnderstood:
        draft = None
    if draft is None or not text.strip() or draft.what != Note():
        raise UsageError(
            f"--at {text}: this is no moment. Write 02:14, -1h, 'yesterday 23:50' or "
            "'2026-03-02 02:14'."
        )
    return draft.at
