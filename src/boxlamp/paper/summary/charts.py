"""The pictures of a litter: intervals between births, weights, the dam's temperatures."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from itertools import pairwise

from boxlamp.paper.account.evidence import LimitAccount, Measured
from boxlamp.paper.account.models import Account, PupAccount
from boxlamp.paper.document import Bar, BarChart, Curve, CurveChart, Role, Section
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.words import length, names

_DAY, _MINUTE = timedelta(days=1), timedelta(minutes=1)
_FEWEST, _FEWEST_READINGS = 2, 3
_SIGNS = "123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
_GAPS = ("gap-more-expected", "gap-count-unknown")


def charts_section(account: Account, reader: Reader) -> Section | None:
    """The charts there is something to draw for."""
    charts = tuple(chart for chart in _charts(account, reader) if chart is not None)
    return Section("Charts", charts) if charts else None


def _charts(account: Account, reader: Reader) -> Iterator[BarChart | CurveChart | None]:
    yield _intervals(account)
    yield _weights(account, reader)
    yield _temperatures(account, reader)


def _intervals(account: Account) -> BarChart | None:
    """A bar for each pup after the first, held against the limits for the gap between pups."""
    bars = [
        Bar(f"pup {pup.number}", pup.interval / _MINUTE, length(pup.interval), _role(pup, account))
        for before, pup in pairwise(account.pups)
        # How fast a surgeon took out the pups is no interval of labour.
        if pup.interval is not None and not before.by_caesarean
    ]
    if not bars:
        return None
    limits = [
        (limit.span / _MINUTE, f"{limit.level} {length(limit.span)}")
        for limit in _gap_limits(account)
        if limit.span is not None
    ]
    longest = max(bar.value for bar in bars)
    near = [limit for limit in limits if limit[0] <= 2 * longest]
    return BarChart("Time since the pup before", "min", tuple(bars), tuple(near))


def _gap_limits(account: Account) -> list[LimitAccount]:
    """The limits for the gap between pups: those with a known number, where it was known."""
    wanted = _GAPS[0] if account.expected is not None else _GAPS[1]
    return [
        limit
        for limit in account.limits
        if (limit.rule, limit.clock) == (wanted, "main") and limit.level != "prompt"
    ]


def _role(pup: PupAccount, account: Account) -> Role:
    """The highest level that the gap alert reached before this pup."""
    raised: set[Role] = {
        alert.level
        for alert in account.alerts
        if alert.rule in _GAPS and pup.interval is not None
        and pup.born - pup.interval <= alert.raised < pup.born
    }  # fmt: skip
    levels: tuple[Role, ...] = ("go", "call", "watch")
    return next((level for level in levels if level in raised), "")


def _weights(account: Account, reader: Reader) -> CurveChart | None:
    """A curve for each pup that was weighed at least twice, over its own days."""
    born = {pup.number: pup.born for pup in account.pups}
    called = names(account)
    curves = tuple(
        Curve(
            called[one.pup],
            _SIGNS[(one.pup - 1) % len(_SIGNS)],
            tuple(
                (_days(weight.at, born[one.pup]), float(reader.scale(weight.grams)))
                for weight in one.weights
            ),
        )
        for one in account.weights
        if len(one.weights) >= _FEWEST and one.pup in born
    )
    if not curves:
        return None
    unit = "grams" if reader.weights == "g" else "ounces"
    return CurveChart("Weights of the pups", "days old", unit, curves)


def _days(at: datetime, start: datetime) -> float:
    return max(timedelta(0), at - start) / _DAY


def _temperatures(account: Account, reader: Reader) -> CurveChart | None:
    """The dam's temperatures, counted from the first pup where there is one."""
    taken = [one for one in account.temperatures if one.where == "dam"]
    if len(taken) < _FEWEST_READINGS:
        return None
    start = min((pup.born for pup in account.pups), default=taken[0].at)
    title = "days from the first pup" if account.pups else "days from the first reading"
    points = tuple(_point(one, start, reader) for one in taken)
    return CurveChart(
        "Temperature of the dam",
        title,
        f"°{reader.temperatures}",
        (Curve("dam", "o", points),),
        tuple(_lines(account, reader)),
    )


def _point(one: Measured, start: datetime, reader: Reader) -> tuple[float, float]:
    return (one.at - start) / _DAY, float(reader.degrees(one.celsius))


def _lines(account: Account, reader: Reader) -> Iterator[tuple[float, str]]:
    """Where fever begins to ask for a call, as the lowest band of the rule says."""
    values = [
        limit.value
        for limit in account.limits
        if limit.rule == "dam-hot" and limit.level == "call" and limit.value is not None
    ]
    if values:
        lowest = min(values)
        yield float(reader.degrees(lowest)), f"call from {reader.temperature(lowest)}"
