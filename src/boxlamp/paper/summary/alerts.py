"""The alerts of a litter: what rose when, who took notice, what was done."""

from collections.abc import Iterable
from datetime import timedelta

from boxlamp.model.happenings import Round
from boxlamp.paper.account.models import Account, AlertAccount
from boxlamp.paper.document import Cell, Column, Section, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.words import length, level_role, level_words, names
from boxlamp.paper.telling import told_entry
from boxlamp.rules import log_quiet
from boxlamp.view.text import counted

_COLUMNS = (
    Column("Level", 1.1), Column("What", 4.6), Column("Raised", 2.2), Column("Heard", 1.6),
    Column("Ended", 2.0), Column("Meanwhile", 3.4),
)  # fmt: skip
# A line typed a minute or two after the fact is usual, and no reason to doubt when it was known.
_LATE = timedelta(minutes=2)


def alerts_section(account: Account, reader: Reader) -> Section:
    """What reached call or go, and how many watches stand further on."""
    serious = [alert for alert in account.alerts if alert.level != "watch"]
    watches = len(_watches(account))
    blocks: list[Table | Words] = [
        Table(_COLUMNS, _rows(serious, account, reader), "No alert asked for a call to the vet.")
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
    return Section(
        "Watches", (Words(told, "dim"), Table(_COLUMNS, _rows(watches, account, reader)))
    )


def _watches(account: Account) -> list[AlertAccount]:
    """What never rose above a watch. That nothing was typed says nothing about the dam."""
    return [
        alert for alert in account.alerts if alert.level == "watch" and alert.rule != log_quiet.ID
    ]


def _rows(
    alerts: Iterable[AlertAccount], account: Account, reader: Reader
) -> tuple[tuple[Cell, ...], ...]:
    told = _told(account, reader)
    return tuple(_row(alert, reader, told) for alert in alerts)


def _told(account: Account, reader: Reader) -> dict[int, str]:
    """Every line of the record in plain words and in the reader's units, by its number.

    A weighing round is left out: an alert about one pup names that pup's weight alone.
    """
    called = names(account)
    lines = [line.reads or line.typed for line in account.timeline]
    return {
        line.id: told_entry(line, reader, called)
        for line in lines
        if not isinstance(line.what, Round)
    }


def _row(alert: AlertAccount, reader: Reader, told: dict[int, str]) -> tuple[Cell, ...]:
    return (
        Cell(level_words(alert.level), level_role(alert.level)),
        Cell(reader.sentence(alert.message)),
        Cell(_raised(alert, reader)),
        Cell(_heard(alert, reader)),
        Cell(_ended(alert, reader)),
        Cell(_done(alert, reader, told)),
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
    if not alert.heard:
        return "not written down"
    told = []
    for heard in alert.heard:
        level = f" at {heard.level}" if len(alert.levels) > 1 else ""
        by = f" by {heard.by}" if heard.by else ""
        told.append(f"{reader.beside(heard.at, alert.raised)}{level}{by}")
    return "; ".join(told)


def _ended(alert: AlertAccount, reader: Reader) -> str:
    if alert.ended is None:
        return "STILL STANDS"
    return f"{reader.beside(alert.ended, alert.raised)}, after {length(alert.ended - alert.raised)}"


def _done(alert: AlertAccount, reader: Reader, told: dict[int, str]) -> str:
    """What was written down while it stood, and what ended it."""
    steps = {one.entry: one for one in (*alert.done, *alert.ended_by)}
    return "; ".join(
        f"{reader.beside(one.at, alert.raised)} {told.get(one.entry) or reader.sentence(one.words)}"
        for one in steps.values()
    )
