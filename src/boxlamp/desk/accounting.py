"""What an account is made from: a litter of the journal, or one that came as a file."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta

from boxlamp import outside
from boxlamp.desk.files import Record
from boxlamp.desk.session import Session
from boxlamp.engine import assess
from boxlamp.journal.chain import Opening, digest, genesis
from boxlamp.model.entry import YEARS, Entry
from boxlamp.model.happenings import Amend, Details, Strike
from boxlamp.model.order import corrected, known_at
from boxlamp.model.story import Story
from boxlamp.model.zones import known_zone
from boxlamp.paper.account.matter import Matter

# Our choice: long enough that the clocks of the last line run, short enough that nothing of the
# first hour after it comes due.
_AFTERGLOW = timedelta(minutes=15)
_LAST = datetime(YEARS[-1], 12, 31, 23, 59, 59, tzinfo=UTC)


def matter_of(here: Session, at: datetime | None = None, *, known: bool = False) -> Matter:
    """A litter of the journal at a moment; now when none is given.

    As the record now reads, or with ``known`` only as it had been typed by then.

    Now is never before a line was typed, also where the computer's clock was set back between
    two of them. The chain covers every entry that is kept, whatever the moment.
    """
    moment = at or max([here.present(outside.now()), *(entry.recorded for entry in here.entries)])
    # Another terminal may have written since: the chain ends where the entries in hand end.
    chain = here.journal.records(here.litter)[len(here.entries)].hash
    return _judged(here.litter, here.zone_name, here.entries, moment, chain, known=known)


def matter_of_file(record: Record, at: datetime | None = None, *, known: bool = False) -> Matter:
    """A litter read from a file at a moment; soon after its last line when none is given.

    A file has no journal. Its chain is the one that a journal would hold after taking it in: from
    the genesis of its id over its opening and the JSON of each entry.
    """
    opening = Opening(slug=record.slug, name=record.name, opened=record.opened)
    chain = genesis(record.slug)
    for part in (opening, *record.entries):
        chain = digest(chain, part.model_dump_json())
    moment, zone = at or _soon_after(record), zone_of(record.entries)
    return _judged(record.slug, zone, record.entries, moment, chain, known=known)


def zone_of(entries: Sequence[Entry]) -> str:
    """The zone last written down, else that of the last line."""
    named = [entry.what.zone for entry in entries if isinstance(entry.what, Details)]
    plain = [entry.zone for entry in entries[-1:]]
    return next((zone for zone in reversed([*plain, *named]) if zone), "UTC")


def _soon_after(record: Record) -> datetime:
    """A little after the last line happened and was typed."""
    moments = [moment for entry in record.entries for moment in (entry.at, entry.recorded)]
    return min(max([record.opened, *moments]) + _AFTERGLOW, _LAST)


def _judged(  # noqa: PLR0913 - a litter, a moment, and how it is asked for
    litter: str, zone: str, every: Sequence[Entry], moment: datetime, chain: str, *, known: bool
) -> Matter:
    entries = _happened(known_at(every, moment) if known else every, moment)
    assessment = assess(Story(entries), outside.default_protocol())
    return Matter(
        litter=litter,
        # A zone that nobody knows counts as UTC everywhere; the account says what was used.
        zone=zone if known_zone(zone) else "UTC",
        entries=entries,
        assessment=assessment,
        verdict=assessment.verdict(moment),
        chain=chain,
        kept=len(every),
    )


def _happened(entries: Sequence[Entry], moment: datetime) -> tuple[Entry, ...]:
    """The entries without those that, as they now read, still lie ahead, and their corrections."""
    reads = {entry.id: entry for entry in corrected(entries)}
    ahead = {
        entry.id
        for entry in entries
        if not isinstance(entry.what, Amend | Strike) and reads.get(entry.id, entry).at > moment
    }
    for entry in sorted(entries, key=lambda entry: entry.id):
        if isinstance(entry.what, Amend | Strike) and entry.what.target in ahead:
            ahead.add(entry.id)
    return tuple(entry for entry in entries if entry.id not in ahead)
