"""The dates, the plan and the kit for other programs: JSON, and one fact per line."""

from collections.abc import Iterator

from boxlamp.planning.dates import DueDate, Unused
from boxlamp.planning.items import PlanItem
from boxlamp.planning.kit import Ticked
from boxlamp.planning.outlook import Outlook
from boxlamp.protocol.records import Protocol, Record
from boxlamp.view.due_lines import disagreement, headline, when_words
from boxlamp.view.machine import SCHEMA, Json
from boxlamp.view.words import CAUTION


def due_json(view: Outlook, litter: str) -> Json:
    """What ``due --json`` prints. Dates are ISO 8601 days where she lives."""
    driver, protocol = view.dates.driver, view.book.protocol
    return {
        "schema": SCHEMA,
        "litter": litter,
        "today": view.today.isoformat(),
        "due": driver.due.isoformat() if driver else None,
        "earliest": driver.earliest.isoformat() if driver else None,
        "latest": driver.latest.isoformat() if driver else None,
        "day": driver.day_on(view.today) if driver else None,
        "disagreement": disagreement(view) or None,
        "bases": [_basis(one, view) for one in view.dates.bases],
        "unused": [_unused(one) for one in view.dates.unused],
        "notes": list(view.dates.notes),
        "plan": [_item(item, protocol) for item in view.plan],
        "born": view.born.isoformat() if view.born else None,
        "follow": [_item(item, protocol) for item in view.follow],
    }


def _basis(one: DueDate, view: Outlook) -> Json:
    return {
        "clock": one.clock,
        "kind": one.kind,
        "from": one.told,
        "on": one.day.isoformat(),
        "day_0": one.zero.isoformat(),
        "due": one.due.isoformat(),
        "earliest": one.earliest.isoformat(),
        "latest": one.latest.isoformat(),
        "rank": one.rank,
        "drives": one.drives,
        "why": one.why,
        "accuracy": one.accuracy,
        "accuracy_seen": one.window_seen,
        "from_memory": one.remembered,
        "born_on_day": one.day_on(view.born) if view.born else None,
        "entries": list(one.entries),
        "source": source_json(one.record, view.book.protocol),
    }


def _unused(one: Unused) -> Json:
    return {
        "from": one.told, "on": one.day.isoformat(), "why": one.why, "entries": list(one.entries)
    }  # fmt: skip


def _item(item: PlanItem, protocol: Protocol) -> Json:
    return {
        "id": item.id,
        "title": item.title,
        "first": item.first.isoformat(),
        "last": item.last.isoformat(),
        "state": item.state or "open",
        "note": item.note,
        "source": source_json(item.record, protocol),
    }


def source_json(record: Record, protocol: Protocol) -> Json:
    """Where a day comes from, and how far that was verified."""
    source = protocol.sources.get(record.source)
    return {
        "title": source.title if source else None,
        "where": source.where if source else None,
        "place": record.place,
        "says": record.says,
        "seen": record.seen,
    }


def kit_json(lines: tuple[Ticked, ...], litter: str) -> Json:
    """What ``kit --json`` prints."""
    return {
        "schema": SCHEMA,
        "litter": litter,
        "ready": sum(line.ready for line in lines),
        "of": len(lines),
        "items": [
            {
                "id": line.item.id,
                "group": line.item.group,
                "what": line.item.what,
                "why": line.item.why,
                "ready": line.ready,
                "by": line.by.isoformat() if line.by else None,
                "days_before": line.item.days,
                "source": line.item.source,
            }
            for line in lines
        ],
    }


def plain_due(view: Outlook) -> Iterator[str]:
    """Every fact as ``label<TAB>values``, the answer first."""
    yield f"due\t{headline(view)}"
    yield f"today\t{view.today.isoformat()}"
    for one in view.dates.bases:
        standing = "from memory" if one.remembered else "drives" if one.drives else "known"
        days = "\t".join(day.isoformat() for day in (one.day, one.due, one.earliest, one.latest))
        yield f"basis\t{standing}\t{one.told}\t{days}\t{one.why}\t{one.record.seen}"
    for unused in view.dates.unused:
        yield f"not used\t{unused.told}\t{unused.day.isoformat()}\t{unused.why}"
    if disagreement(view):
        yield f"disagreement\t{disagreement(view)}"
    yield from (f"note\t{note}" for note in view.dates.notes)
    if view.born is not None:
        yield f"born\t{view.born.isoformat()}"
    for item in view.ahead:
        if item.state != "off":
            days = f"{item.first.isoformat()}\t{item.last.isoformat()}"
            state = item.state or "open"
            yield f"plan\t{item.id}\t{state}\t{days}\t{when_words(item, view)}\t{item.title}"
    yield f"caution\t{CAUTION}"


def plain_kit(lines: tuple[Ticked, ...]) -> Iterator[str]:
    """One line an item: name, group, ready or missing, by when, what it is."""
    for line in lines:
        by = line.by.isoformat() if line.by else ""
        ready = "ready" if line.ready else "missing"
        yield f"kit\t{line.item.id}\t{line.item.group}\t{ready}\t{by}\t{line.item.what}"
    yield f"caution\t{CAUTION}"
