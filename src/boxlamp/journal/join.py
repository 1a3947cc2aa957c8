"""The best of several damaged copies: what is proven, what agrees, and what neither is."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime

from boxlamp.journal import rows
from boxlamp.journal.chain import Opening, Record, digest, genesis
from boxlamp.journal.copies import Copy, named
from boxlamp.journal.notices import Finding
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Note

_WIDEST_GAP = 1000
"""A number that lies further than this beyond all others is damage, not an entry."""

_NO_TIME = datetime(1990, 1, 1, tzinfo=UTC)


@dataclass
class Joined:
    """The record made whole: its records in new places, and what is uncertain about them."""

    records: list[Record] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    current: str | None = None


@dataclass
class _Telling:
    """One litter as one copy tells it, or as several do that do not contradict each other."""

    litter: str
    proven: dict[int, Record] = field(default_factory=dict)
    doubtful: dict[int, list[Record]] = field(default_factory=dict)

    def parts_from(self, other: "_Telling") -> int | None:
        """The first number that both can prove and tell differently."""
        shared = sorted(self.proven.keys() & other.proven.keys())
        return next((n for n in shared if self.proven[n].body != other.proven[n].body), None)

    def add(self, other: "_Telling") -> None:
        """Take over what the other one has to say about the same litter."""
        self.proven = other.proven | self.proven
        for number, records in other.doubtful.items():
            self.doubtful.setdefault(number, []).extend(records)

    def best(self, number: int) -> Record | None:
        """What is proven of a number, else what two copies tell alike."""
        if number in self.proven:
            return self.proven[number]
        told = self.doubtful.get(number, [])
        alike = (one for one in told if [two.body for two in told].count(one.body) > 1)
        return next((one for one in alike if one.readable()), None)

    def numbers(self) -> Iterator[int]:
        """Every number there is anything about, up to a gap too wide to be true."""
        before = -1
        for number in sorted({*self.proven, *self.doubtful}):
            if number - before > _WIDEST_GAP:
                return
            before = number
            yield number


def join(copies: list[Copy]) -> Joined:
    """Join the copies. Where they tell different stories the first leads and all are kept."""
    joined = Joined(current=next((copy.current for copy in copies if copy.current), None))
    taken = {litter for copy in copies for litter, _ in copy.records}
    end = 1 + max((one.seq for copy in copies for one in copy.records.values()), default=0)
    ranked: list[tuple[int, Record]] = []
    for litter in sorted(taken):
        main, *others = _tellings(litter, copies)
        ranked += _rebuilt(main, litter, joined)
        for other in others:
            slug = next(name for name in rows.slugs(f"{litter}-other") if name not in taken)
            taken.add(slug)
            joined.findings.append(_parted(litter, slug, main.parts_from(other)))
            ranked += [
                (end, one) for _, one in _rebuilt(_from_the_start(other, main), slug, joined)
            ]
    # Records keep the order in which they were first written; the other stories come last.
    ranked.sort(key=lambda pair: pair[0])
    joined.current = joined.current or next(
        (one.litter for rank, one in reversed(ranked) if rank < end), None
    )
    joined.records = [
        Record(seq, one.litter, one.number, one.prev, one.hash, one.body)
        for seq, (_, one) in enumerate(ranked, start=1)
    ]
    return joined


def _tellings(litter: str, copies: list[Copy]) -> list[_Telling]:
    found: list[_Telling] = []
    for copy in copies:
        telling = _told(litter, copy, copies)
        for known in found:
            if known.parts_from(telling) is None:
                known.add(telling)
                break
        else:
            found.append(telling)
    return found


def _told(litter: str, copy: Copy, copies: list[Copy]) -> _Telling:
    telling = _Telling(litter)
    for (name, number), record in copy.records.items():
        if name == litter:
            # The link before it may be lost in this copy and still be there in another.
            before = {record.prev, *(one.hash_before(record) for one in copies)} - {""}
            if record.readable() and any(record.follows(prev) for prev in before):
                telling.proven[number] = record
            else:
                telling.doubtful[number] = [record]
    return telling


def _from_the_start(other: _Telling, main: _Telling) -> _Telling:
    """The other story with what both had in common before they parted."""
    parted = main.parts_from(other) or 0
    common = {number: one for number, one in main.proven.items() if number < parted}
    return _Telling(other.litter, common | other.proven, other.doubtful)


def _rebuilt(telling: _Telling, slug: str, joined: Joined) -> list[tuple[int, Record]]:
    """The litter's chain made anew under the id ``slug``, each record with its rank in time."""
    numbers = list(telling.numbers())
    if len(numbers) < len({*telling.proven, *telling.doubtful}):
        joined.findings.append(
            Finding("not-proven", f"{slug} held numbers out of all reason.", slug)
        )
    chain: list[tuple[int, Record]] = []
    rank, prev, time = 0, genesis(slug), _first_time(telling)
    for number in range(numbers[-1] + 1 if numbers else 0):
        best = telling.best(number)
        if best is None:
            joined.findings.append(
                Finding(
                    "not-proven",
                    f"{named((slug, number))} could not be proven; a note stands in its place.",
                    slug,
                    number,
                )
            )
            body = _stand_in(telling, slug, number, time)
        else:
            rank = max(rank, best.seq)
            body, time = _under(best, slug, time)
        prev = digest(prev, body)
        before = chain[-1][1].hash if chain else genesis(slug)
        chain.append((rank, Record(0, slug, number, before, prev, body)))
    return chain


def _under(record: Record, slug: str, time: datetime) -> tuple[str, datetime]:
    """The body of a record under a litter's id, and when it was written."""
    if (entry := record.entry()) is not None:
        time = entry.recorded
        if record.litter != slug:
            return entry.model_copy(update={"litter": slug}).model_dump_json(), time
    elif record.litter != slug and (opening := record.opening()) is not None:
        return opening.model_copy(update={"slug": slug}).model_dump_json(), time
    return record.body, time


def _first_time(telling: _Telling) -> datetime:
    for _, record in sorted(telling.proven.items()):
        if (entry := record.entry()) is not None:
            return entry.recorded
        if (opening := record.opening()) is not None:  # pragma: no branch - proven is readable
            return opening.opened
    return _NO_TIME


def _stand_in(telling: _Telling, slug: str, number: int, time: datetime) -> str:
    """What stands where a record could not be proven, so that all others keep their numbers."""
    if number == 0:
        return Opening(slug=slug, name=slug, opened=time).model_dump_json()
    left = next((one.entry() or one.body for one in telling.doubtful.get(number, [])), "nothing")
    words = left.text if isinstance(left, Entry) else left
    note = Note(
        words=f"Entry {number} was damaged and could not be proven. Left of it: {words}"[:4000],
        unread=True,
    )
    return Entry(
        id=number, litter=slug, at=time, recorded=time, certainty="estimated", what=note
    ).model_dump_json()


def _parted(litter: str, slug: str, number: int | None) -> Finding:
    sentence = f"The copies of {litter} went different ways; the other way is kept as {slug}."
    return Finding("forked", sentence, litter, number)
