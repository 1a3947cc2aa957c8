"""The alerts of a litter: what rose when, who took notice, what was done."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Details, Round
from boxlamp.model.levels import Level
from boxlamp.paper.account.models import Account, AlertAccount, Done
from boxlamp.paper.document import Cell, Column, Section, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.words import length, level_role, level_words, names
from boxlamp.paper.telling import told_entry
from boxlamp.rules import log_quiet
from boxlamp.view.text import counted

_COLUMNS = (
    Column("Level", 1.1), Column("What", 4.0), Column("Raised", 2.3), Column("Heard", 1.6),
    Column("Ended", 1.9),
)  # fmt: skip
_MEANWHILE, _ENDED_BY = Column("Meanwhile", 4.6), Column("Ended by", 4.6)
_HEARD = (
    "Heard: when somebody wrote down that the alert was heard. Meanwhile: what was written down "
    "while it stood, and what ended it. What still stands comes first, then the others as they "
    "came."
)
# A line typed a minute or two after the fact is usual, and no reason to doubt when it was known.
_LATE = timedelta(minutes=2)


def alerts_section(account: Account, reader: Reader) -> Section:
    """What reached call or go, and how many watches stand further on."""
    serious = sorted((alert for alert in account.alerts if alert.level != "watch"), key=_order)
    watches = len(_watches(account))
    blocks: list[Table | Words] = [
        Table(
            (*_COLUMNS, _MEANWHILE),
            tuple(_rows(serious, account, reader)),
            "No alert asked for a call to the vet.",
        )
    ]
    notes = [_HEARD] if serious else []
    if watches:
        times = counted(watches, "time", "times")
        notes.append(f"A closer look was asked for {times} more: see Watches.")
    if notes:
        blocks.append(Words(" ".join(notes), "dim"))
    return Section("Alerts", tuple(blocks))


def watches_section(account: Account, reader: Reader) -> Section | None:
    """The alerts that never rose above a watch, if there were any."""
    watches = _watches(account)
    if not watches:
        return None
    told = "Each asked the person at the box to look closely and to check again."
    quiet = sum(alert.rule == log_quiet.ID for alert in account.alerts)
    if quiet:
        told += f" {counted(quiet, 'more', 'more')} only said that nothing had been typed."
    # What was done meanwhile stands with the alerts that a vet was rung about.
    rows = _rows([alert.model_copy(update={"done": ()}) for alert in watches], account, reader)
    return Section("Watches", (Words(told, "dim"), Table((*_COLUMNS, _ENDED_BY), tuple(rows))))


def _order(alert: AlertAccount) -> tuple[int, ...]:
    """What still stands before what is over, the gravest of it first; the rest as it came."""
    if alert.ended is not None:
        return (1,)
    return 0, -Level[alert.level.upper()]


def _watches(account: Account) -> list[AlertAccount]:
    """What never rose above a watch. That nothing was typed says nothing about the dam."""
    return [
        alert for alert in account.alerts if alert.level == "watch" and alert.rule != log_quiet.ID
    ]


def _rows(
    alerts: Iterable[AlertAccount], account: Account, reader: Reader
) -> Iterator[tuple[Cell, ...]]:
    called = names(account)
    lines = {line.typed.id: line.reads or line.typed for line in account.timeline}
    for alert in alerts:
        # That a fact about the dam was written down may end an alert, and is no answer to it.
        steps = {
            one.entry: one
            for one in (*alert.done, *alert.ended_by)
            if not isinstance(lines[one.entry].what, Details)
        }
        done = [
            f"{reader.beside(one.at, alert.raised)} {_words(one, lines, reader, called)}"
            for one in steps.values()
        ]
        yield _row(alert, "; ".join(done), reader)


def _words(one: Done, lines: Mapping[int, Entry], reader: Reader, called: Mapping[int, str]) -> str:
    """A line in the reader's units; of a whole weighing round only that it was weighed."""
    line = lines[one.entry]
    return "weighed" if isinstance(line.what, Round) else told_entry(line, reader, called)


def _row(alert: AlertAccount, done: str, reader: Reader) -> tuple[Cell, ...]:
    return (
        Cell(level_words(alert.level), level_role(alert.level)),
        Cell(reader.sentence(alert.message)),
        Cell(_raised(alert, reader)),
        Cell(_heard(alert, reader)),
        Cell(_ended(alert, reader)),
        Cell(done),
    )


def _raised(alert: AlertAccount, reader: Reader) -> str:
    """When each level was reached, and when the line behind it was typed if that was later."""
    first, *rest = alert.levels
    steps = [f"{first.level} {reader.moment(first.at)}" if rest else reader.moment(first.at)]
    steps += [f"{step.level} {reader.beside(step.at, first.at)}" for step in rest]
    if alert.typed - alert.levels[-1].at >= _LATE:
        steps.append(f"line typed {reader.beside(alert.typed, first.at)}")
    return "; ".join(steps)


def _heard(alert: AlertAccount, reader: Reader) -> str:
    told = []
    for heard in alert.heard:
        level = f" at {heard.level}" if len(alert.levels) > 1 else ""
        by = f" by {heard.by}" if heard.by else ""
        told.append(f"{reader.beside(heard.at, alert.raised)}{level}{by}")
    return "; ".join(told)


def _ended(alert: AlertAccount, reader: Reader) -> str:
    if alert.ended is None:
        return "STILL STANDS"
    stood = length(alert.ended - alert.raised)
    since = f" after the {alert.levels[0].level}" if len(alert.levels) > 1 else " later"
    return f"{reader.beside(alert.ended, alert.raised)}, {stood}{since}"
