"""The alerts of a litter: what rose when, who took notice, what was done."""

from collections.abc import Iterable
from datetime import timedelta

from boxlamp.paper.account.models import Account, AlertAccount
from boxlamp.paper.document import Cell, Column, Section, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.words import length, level_role, level_words
from boxlamp.rules import log_quiet
from boxlamp.view.text import counted

_COLUMNS = (
    Column("Level", 1.1), Column("What", 4.6), Column("Raised", 2.2), Column("Heard", 1.6),
    Column("Ended", 2.0), Column("What was done", 3.4),
)  # fmt: skip
# A line typed a minute or two after the fact is usual, and no reason to doubt when it was known.
_LATE = timedelta(minutes=2)


def alerts_section(account: Account, reader: Reader) -> Section:
    """What reached call or go, and how many watches stand further on."""
    serious = [alert for alert in account.alerts if alert.level != "watch"]
    watches = len(_watches(account))
    blocks: list[Table | Words] = [
        Table(_COLUMNS, _rows(serious, reader), "No alert asked for a call to the vet.")
    ]
    if watches:
        times = counted(watches, "time", "times")
        blocks.append(Words(f"A closer look was asked for {times}: see Watches.", "dim"))
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
    return Section("Watches", (Words(told, "dim"), Table(_COLUMNS, _rows(watches, reader))))


def _watches(account: Account) -> list[AlertAccount]:
    """What never rose above a watch. That nothing was typed says nothing about the dam."""
    return [
        alert for alert in account.alerts if alert.level == "watch" and alert.rule != log_quiet.ID
    ]


def _rows(alerts: Iterable[AlertAccount], reader: Reader) -> tuple[tuple[Cell, ...], ...]:
    return tuple(_row(alert, reader) for alert in alerts)


def _row(alert: AlertAccount, reader: Reader) -> tuple[Cell, ...]:
    return (
        Cell(level_words(alert.level), level_role(alert.level)),
        Cell(reader.sentence(alert.message)),
        Cell(_raised(alert, reader)),
        Cell(_heard(alert, reader)),
        Cell(_ended(alert, reader)),
        Cell(_done(alert, reader)),
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
    if alert.acknowledged is None:
        return "not written down"
    by = f", {alert.acknowledged_by}" if alert.acknowledged_by else ""
    return f"{reader.beside(alert.acknowledged, alert.raised)}{by}"


def _ended(alert: AlertAccount, reader: Reader) -> str:
    if alert.ended is None:
        return "STILL STANDS"
    return f"{reader.beside(alert.ended, alert.raised)}, after {length(alert.ended - alert.raised)}"


def _done(alert: AlertAccount, reader: Reader) -> str:
    """What was written down while it stood, and what ended it."""
    steps = {one.entry: one for one in (*alert.done, *alert.ended_by)}
    return "; ".join(f"{reader.beside(one.at, alert.raised)} {one.words}" for one in steps.values())
