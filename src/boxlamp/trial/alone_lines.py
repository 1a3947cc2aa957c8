"""One protocol as a person reads it: alerts in normal nights, and what became of each trouble."""

from collections.abc import Iterator

from boxlamp.model.levels import ALERTS, Level
from boxlamp.trial import words
from boxlamp.trial.report import ALL, Caught, Report, TroubleRow

_HUNDRED = 100
_FIRSTS, _FIRSTS_OF_ALL = 3, 8
_LEVELS = (26, 27, 27)
_RULES = (29, 17, 17, 17)
_TROUBLES = (20, 7, 17, 18, 18)


def alone_lines(found: Report) -> Iterator[str]:
    """What the only side costs, and what it catches."""
    if found.normal:
        yield ""
        yield from _levels(found)
        yield ""
        yield from _rules(found)
        yield from words.folded(f"Never raised: {', '.join(found.never)}.")
    if found.troubled:
        yield ""
        yield f"{found.troubled:,} troubled nights. Flagged: a call or go raised in it, in time."
        yield "Times: in hours and minutes, the median (and the quartiles)."
        yield from _troubles(found)
        yield ""
        yield "What flagged it first, in % of those flagged"
        for row in found.troubles:
            yield from _firsts(row, row.caught[0])
        yield ""
        yield from _missed(found)


def _levels(found: Report) -> Iterator[str]:
    head = f"{found.normal:,} normal nights"
    yield words.row(_LEVELS, head, "alerts a night", "% of nights with any")
    for row in reversed(found.levels):
        alerts, nights = words.per_night(row.alerts.sides[0]), words.percent(row.nights.sides[0])
        yield words.row(_LEVELS, words.level(row.level), alerts, nights)


def _rules(found: Report) -> Iterator[str]:
    heads = [f"{level.mark} {level.word}" for level in ALERTS]
    yield words.row(_RULES, "Alerts in 100 normal nights", *heads)
    by_rule: dict[str, dict[Level, str]] = {}
    for row in found.rules:
        cells = by_rule.setdefault(row.rule, {})
        cells[row.level] = words.rate(row.alerts.sides[0], _HUNDRED)
    for rule, cells in by_rule.items():
        yield words.row(_RULES, rule, *(cells.get(level, "-") for level in ALERTS))


def _troubles(found: Report) -> Iterator[str]:
    yield words.row(_TROUBLES, "", "nights", "% flagged", "after it began", "before its end")
    for row in found.troubles:
        [caught], [share] = row.caught, row.flagged.sides
        after, before = words.times(caught.after), words.times(caught.before)
        nights = f"{row.nights}"
        yield words.row(_TROUBLES, row.trouble, nights, words.percent(share), after, before)


def _firsts(row: TroubleRow, caught: Caught) -> Iterator[str]:
    if not caught.flagged:
        return
    most = _FIRSTS_OF_ALL if row.trouble == ALL else _FIRSTS
    shown = [f"{rule} {_percent(nights, caught)}" for rule, nights in caught.firsts[:most]]
    others = sum(nights for _, nights in caught.firsts[most:])
    if others:
        shown.append(f"others {_percent(others, caught)}")
    yield from words.folded(f"{row.trouble}: {', '.join(shown)}")


def _percent(nights: int, caught: Caught) -> str:
    return words.rounded(100 * nights / caught.flagged)


def _missed(found: Report) -> Iterator[str]:
    every = found.troubles[0].caught[0]
    if every.already:
        yield from words.folded(
            f"In {every.already:,} nights a call or go from before the trouble still stood and no "
            "new one came: they count neither as flagged nor as missed."
        )
    if not every.missed:
        yield "Nothing was missed: in every night a call or go stood in the trouble."
        return
    yield from words.folded(
        f"Missed: {every.missed:,} nights, {every.watched:,} of them with a watch at least. "
        f"{words.LOOK}"
    )
    for row in found.troubles[1:]:
        if row.caught[0].missed:
            watched = row.caught[0].watched
            told = f" ({watched:,} with a watch)" if watched else ""
            seeds = [one.seed for one in found.missed if one.trouble == row.trouble]
            yield from words.folded(f"{row.trouble}, {len(seeds):,}{told}: {words.seeds(seeds)}")
