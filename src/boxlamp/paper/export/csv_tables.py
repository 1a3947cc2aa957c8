"""Tables for a spreadsheet: pups, weights, timeline, alerts. CSV as RFC 4180 has it.

Each line ends in CR LF, the first one holds the names of the columns, and a quote in a cell is
doubled. Units are the stored ones and stand in the column's name: ``_g`` grams, ``_s`` seconds.
Times are RFC 3339 with the offset of the litter's zone. What is not known is an empty cell. Line
breaks in what a person typed become spaces, and control characters U+FFFD.
"""

import csv
import io
from collections.abc import Callable, Iterator, Mapping
from datetime import tzinfo
from functools import partial
from typing import Any, Literal, NamedTuple, get_args

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Strike
from boxlamp.model.quantities import rounded
from boxlamp.model.seen import MilestoneName, StepName
from boxlamp.paper.account.base import LevelWord
from boxlamp.paper.account.evidence import Weighed
from boxlamp.paper.account.models import Account, AlertAccount, Correction, Line, PupAccount
from boxlamp.paper.export.cells import Single, Value, cell
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.words import names
from boxlamp.paper.telling import told

TableName = Literal["pups", "weights", "timeline", "alerts"]
Columns = dict[str, Callable[[Any], Value]]
"""The names of a table's columns, in order, and what each one holds of a row's subject."""


def table(account: Account, name: TableName, zone: tzinfo) -> str:
    """One table of a litter, to be written as UTF-8. Its first line names the columns always."""
    columns, subjects = _TABLES[name]
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\r\n")
    writer.writerow(columns)
    for subject in subjects(account, zone):
        writer.writerow([cell(value(subject), zone) for value in columns.values()])
    return written.getvalue()


# Pups: one row a pup, in order of birth.

_SCORED = ("heart_rate", "breathing", "reflex", "movement", "colour")


def _score(field: str, pup: PupAccount) -> Single:
    found: Single = None if pup.viability is None else getattr(pup.viability, field)
    return found


def _score_item(place: int, pup: PupAccount) -> Single:
    return None if pup.viability is None else pup.viability.items[place]


def _when_done(step: str, pup: PupAccount) -> Value:
    """Every time at which a step was done; a cord may bleed first and be tied later."""
    return (done.at for done in pup.steps if done.step == step)


def _when_reached(milestone: str, pup: PupAccount) -> Value:
    return (one.at for one in pup.milestones if one.milestone == milestone)


def _findings(pup: PupAccount) -> Value:
    return (f"{done.step}: {done.finding}" for done in pup.steps if done.finding)


_PUPS: Columns = {
    "order": lambda pup: pup.order,
    "number": lambda pup: pup.number,
    "mark": lambda pup: pup.mark,
    "chip": lambda pup: pup.chip,
    "born": lambda pup: pup.born,
    "estimated": lambda pup: pup.estimated,
    "interval_s": lambda pup: pup.interval,
    "sex": lambda pup: pup.sex,
    "birth_weight_g": lambda pup: pup.birth_weight_g,
    "weight_g": lambda pup: pup.weight_g,
    "weighed": lambda pup: pup.weighed,
    "presentation": lambda pup: pup.presentation,
    "state_at_birth": lambda pup: pup.state_at_birth,
    "state": lambda pup: pup.state,
    "standing": lambda pup: pup.standing,
    "celsius": lambda pup: pup.celsius,
    "measured": lambda pup: pup.measured,
    "by_caesarean": lambda pup: pup.by_caesarean,
    "viability_total": partial(_score, "total"),
    "viability_items_taken": partial(_score, "items_taken"),
    "viability_at": partial(_score, "at"),
    **{f"viability_{item}": partial(_score_item, place) for place, item in enumerate(_SCORED)},
    "afterbirth": lambda pup: pup.afterbirth,
    "afterbirth_at": lambda pup: pup.afterbirth_at,
    "first_milk": lambda pup: pup.first_milk,
    **{f"{s.replace('-', '_')}_at": partial(_when_done, s) for s in get_args(StepName)},
    "findings": _findings,
    **{f"{m.replace('-', '_')}_at": partial(_when_reached, m) for m in get_args(MilestoneName)},
    "died": lambda pup: pup.died,
    "died_of": lambda pup: pup.died_of,
    "left_home": lambda pup: pup.left_home,
    "notes": lambda pup: (note.words for note in pup.notes),
}


def _each_pup(account: Account, _zone: tzinfo) -> Iterator[PupAccount]:
    yield from account.pups


# Weights: one row a weight, pup by pup, oldest first.


class _Weight(NamedTuple):
    number: int
    pup: PupAccount | None
    weighed: Weighed


def _age_days(row: _Weight) -> Value:
    """Completed days since the pup was born."""
    return None if row.pup is None else (row.weighed.at - row.pup.born).days


def _of_birth_weight(row: _Weight) -> Value:
    """The weight in per cent of the birth weight, to the tenth: 100 is the birth weight itself."""
    if row.pup is None or row.pup.birth_weight_g is None:
        return None
    return rounded(100 * row.weighed.grams / row.pup.birth_weight_g)


_WEIGHTS: Columns = {
    "pup": lambda row: row.number,
    "mark": lambda row: row.pup and row.pup.mark,
    "at": lambda row: row.weighed.at,
    "weight_g": lambda row: row.weighed.grams,
    "age_days": _age_days,
    "percent_of_birth_weight": _of_birth_weight,
}


def _each_weight(account: Account, _zone: tzinfo) -> Iterator[_Weight]:
    pups = {pup.number: pup for pup in account.pups}
    for one in account.weights:
        for weighed in one.weights:
            yield _Weight(one.pup, pups.get(one.pup), weighed)


# Timeline: one row a line, in order of time as the record now reads.


class _Told(NamedTuple):
    line: Line
    reads: Entry
    """As it now reads; as it was typed, where it was struck."""
    reader: Reader
    called: Mapping[int, str]

    @property
    def counted(self) -> tuple[Correction, ...]:
        """The corrections that count."""
        return tuple(one for one in self.line.corrections if one.stands)

    @property
    def amended(self) -> bool:
        """Whether it now reads otherwise than it was typed."""
        return any(isinstance(one.entry.what, Amend) for one in self.counted)

    def told(self, entry: Entry) -> str:
        """What an entry says, in plain words; its note has a column of its own."""
        return told(entry.what, self.reader, self.called)


def _stands(row: _Told) -> Value:
    if row.line.reads is None:
        return "struck"
    return "amended" if row.amended else "stands"


def _reason(correction: Correction) -> str:
    """Why, as far as somebody said; an empty reason keeps its place among the others."""
    what = correction.entry.what
    return what.why if isinstance(what, Strike) else correction.entry.note


_TIMELINE: Columns = {
    "entry": lambda row: row.line.typed.id,
    "at": lambda row: row.reads.at,
    "certainty": lambda row: row.reads.certainty,
    "recorded": lambda row: row.line.typed.recorded,
    "by": lambda row: row.line.typed.by,
    "kind": lambda row: row.reads.what.kind,
    "told": lambda row: row.told(row.reads),
    "text": lambda row: row.line.typed.text,
    "note": lambda row: row.reads.note,
    "state": _stands,
    "at_before": lambda row: row.line.typed.at if row.amended else None,
    "told_before": lambda row: row.told(row.line.typed) if row.amended else None,
    "corrected_by": lambda row: (one.entry.id for one in row.counted),
    "corrected_at": lambda row: (one.entry.recorded for one in row.counted),
    "corrected_who": lambda row: (one.entry.by for one in row.counted),
    "reason": lambda row: (_reason(one) for one in row.counted),
    "withdrawn_corrections": lambda row: (
        one.entry.id for one in row.line.corrections if not one.stands
    ),
}


def _each_line(account: Account, zone: tzinfo) -> Iterator[_Told]:
    reader, called = Reader(zone), names(account)
    for line in account.timeline:
        yield _Told(line, line.reads or line.typed, reader, called)


# Alerts: one row an alert, in the order in which they were raised.


def _reached(level: str, alert: AlertAccount) -> Value:
    return (one.at for one in alert.levels if one.level == level)


def _noticed(level: str, alert: AlertAccount) -> Value:
    return (one.at for one in alert.heard if one.level == level)


_ALERTS: Columns = {
    "rule": lambda alert: alert.rule,
    "title": lambda alert: alert.title,
    "subject": lambda alert: alert.subject,
    "level": lambda alert: alert.level,
    "message": lambda alert: alert.message,
    "since": lambda alert: alert.since,
    "limit_s": lambda alert: alert.limit,
    "raised": lambda alert: alert.raised,
    **{f"{word}_at": partial(_reached, word) for word in get_args(LevelWord)},
    "typed": lambda alert: alert.typed,
    "ended": lambda alert: alert.ended,
    "ended_by": lambda alert: (done.entry for done in alert.ended_by),
    "ended_by_words": lambda alert: (done.words for done in alert.ended_by),
    "acknowledged": lambda alert: alert.acknowledged,
    "acknowledged_by": lambda alert: alert.acknowledged_by,
    **{f"{word}_heard": partial(_noticed, word) for word in get_args(LevelWord)},
    "heard_by": lambda alert: (one.by for one in alert.heard),
    "done": lambda alert: (done.entry for done in alert.done),
    "done_at": lambda alert: (done.at for done in alert.done),
    "done_words": lambda alert: (done.words for done in alert.done),
    "entries": lambda alert: alert.entries,
}


def _each_alert(account: Account, _zone: tzinfo) -> Iterator[AlertAccount]:
    yield from account.alerts


_TABLES: dict[TableName, tuple[Columns, Callable[[Account, tzinfo], Iterator[Any]]]] = {
    "pups": (_PUPS, _each_pup),
    "weights": (_WEIGHTS, _each_weight),
    "timeline": (_TIMELINE, _each_line),
    "alerts": (_ALERTS, _each_alert),
}
