"""The JSON that other programs rely on. A change of shape raises ``SCHEMA``."""

from datetime import datetime, timedelta, tzinfo
from typing import Any

from boxlamp.engine import Alert, Deadline, Prompt, Transition, Verdict
from boxlamp.protocol.records import BandRecord, LimitRecord, Protocol
from boxlamp.view.words import steps_for

SCHEMA = 1

Json = dict[str, Any]


def stamp(at: datetime, zone: tzinfo) -> str:
    """RFC 3339 with a numeric offset, to the second."""
    return at.astimezone(zone).isoformat(timespec="seconds")


def verdict_json(verdict: Verdict, litter: str, zone: tzinfo) -> Json:
    """What ``check --json`` prints."""
    return {
        "schema": SCHEMA,
        "at": stamp(verdict.at, zone),
        "litter": litter,
        "phase": verdict.litter.phase,
        "alerts": [alert_json(alert, verdict, zone) for alert in verdict.alerts],
        "prompts": [prompt_json(prompt, zone) for prompt in verdict.prompts],
        "next": [deadline_json(deadline, zone) for deadline in verdict.next],
        "counts": {
            "expected": verdict.litter.expected,
            "born": verdict.litter.born,
            "alive": verdict.litter.alive,
            "afterbirths": verdict.litter.ledger.passed,
            "owed": len(verdict.litter.ledger.owed),
        },
    }


def prompt_json(prompt: Prompt, zone: tzinfo) -> Json:
    """One reminder, and from when on it is shown."""
    return {
        "rule": prompt.rule.id,
        "subject": prompt.subject,
        "since": stamp(prompt.since, zone),
        "message": prompt.message,
    }


def alert_json(alert: Alert, verdict: Verdict, zone: tzinfo) -> Json:
    """One alert with its evidence: the entries, the clock, the limit, the source."""
    return {
        "rule": alert.rule.id,
        "level": alert.level.word,
        "subject": alert.subject,
        "raised": stamp(alert.raised, zone),
        "since": stamp(alert.since, zone),
        "elapsed_s": _seconds(alert.elapsed),
        "counted_s": _seconds(alert.counted),
        "limit_s": _seconds(alert.limit),
        "message": alert.message,
        "do": list(steps_for(alert, verdict.litter)),
        "entries": list(alert.entries),
        "sources": sources_of(alert, verdict.book.protocol),
        "acknowledged": stamp(alert.acknowledged, zone) if alert.acknowledged else None,
    }


def sources_of(alert: Alert, protocol: Protocol) -> list[Json]:
    """Where the limit behind an alert comes from, and how far that was verified."""
    places: tuple[LimitRecord | BandRecord, ...] = (*protocol.limit, *protocol.band)
    wanted = (alert.rule.id, alert.spell.clock, alert.level.word)
    records = [record for record in places if (record.rule, record.clock, record.level) == wanted]
    return [
        {
            "title": protocol.sources[record.source].title if record.source else None,
            "where": protocol.sources[record.source].where if record.source else None,
            "place": record.place,
            "says": record.says,
            "seen": record.seen,
        }
        for record in records
    ]


def deadline_json(deadline: Deadline, zone: tzinfo) -> Json:
    """One level that is coming."""
    return {
        "rule": deadline.rule.id,
        "level": deadline.level.word,
        "subject": deadline.subject,
        "due": stamp(deadline.due, zone),
    }


def transition_json(step: Transition, zone: tzinfo) -> Json:
    """One line of ``replay --json``."""
    return {
        "at": stamp(step.at, zone),
        "rule": step.rule.id,
        "subject": step.subject,
        "level": step.level.word,
        "change": step.change,
        "since": stamp(step.since, zone),
        "entries": list(step.entries),
    }


def _seconds(span: timedelta) -> int:
    return int(span.total_seconds())
