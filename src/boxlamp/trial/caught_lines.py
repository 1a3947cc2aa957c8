"""Troubled nights as a person reads them: flagged or not, when, by what, and which to look at."""

from collections.abc import Iterator

from boxlamp.trial import words
from boxlamp.trial.report import ALL, Caught, Report, TroubleRow

_HUNDRED = 100
_FIRSTS, _FIRSTS_OF_ALL = 3, 8
_SEEDS = 8
_ONE = (20, 7, 17, 18, 18)
_TWO = (20, 7, 17, 17, 19)
_TIMES = (20, 10, 25, 25)


def caught_lines(found: Report) -> Iterator[str]:
    """Everything about the troubled nights."""
    yield f"{found.troubled:,} troubled nights. Flagged: a call or go raised in it, in time."
    yield "Times: in hours and minutes, the median (and the quartiles)."
    yield from _one(found) if len(found.sides) == 1 else _two(found)
    for place, side in enumerate(found.sides):
        whose = "" if len(found.sides) == 1 else f" under {side.name}"
        yield ""
        yield f"What flagged it first{whose}, in % of those flagged"
        for row in found.troubles:
            yield from _firsts(row, row.caught[place])
        yield ""
        yield from _missed(found, place, whose)


def _one(found: Report) -> Iterator[str]:
    yield words.row(_ONE, "", "nights", "% flagged", "after it began", "before its end")
    for row in found.troubles:
        [caught], [share] = row.caught, row.flagged.sides
        after, before = words.times(caught.after), words.times(caught.before)
        yield words.row(_ONE, row.trouble, f"{row.nights}", words.percent(share), after, before)


def _two(found: Report) -> Iterator[str]:
    names = [side.name for side in found.sides]
    heads = [f"% {name}" for name in names]
    yield words.row(_TWO, "", "nights", *heads, "difference")
    for row in found.troubles:
        shares = [words.percent(share) for share in row.flagged.sides]
        apart = words.apart(row.flagged, _HUNDRED)
        yield words.row(_TWO, row.trouble, f"{row.nights}", *shares, apart)
    yield ""
    yield words.row(_TIMES, "", "", "after it began", "before its end")
    for row in found.troubles:
        for name, caught in zip(names, row.caught, strict=True):
            head = row.trouble if name == names[0] else ""
            after, before = words.times(caught.after), words.times(caught.before)
            yield words.row(_TIMES, head, name, after, before)
        if row.sooner is not None:
            yield f"{'':<20}{names[1]:>10}: {words.sooner(row.sooner)}, on average"


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


def _missed(found: Report, place: int, whose: str) -> Iterator[str]:
    every = found.troubles[0].caught[place]
    if every.already:
        yield from words.folded(
            f"In {every.already:,} nights a call or go from before the trouble still stood and no "
            f"new one came{whose}: they count neither as flagged nor as missed."
        )
    if not every.missed:
        yield f"Nothing was missed{whose}: in every night a call or go stood in the trouble."
        return
    yield from words.folded(
        f"Missed{whose}: {every.missed:,} nights, {every.watched:,} of them with a watch at least. "
        "To look at one: boxlamp imagine --seed SEED --trouble NAME -o one.night, then boxlamp "
        "replay one.night"
    )
    for row in found.troubles:
        if row.trouble != ALL and row.caught[place].missed:
            yield from _seeds(found, place, row)


def _seeds(found: Report, place: int, row: TroubleRow) -> Iterator[str]:
    seeds = [one.seed for one in found.missed if (one.side, one.trouble) == (place, row.trouble)]
    watched = row.caught[place].watched
    told = f" ({watched:,} with a watch)" if watched else ""
    shown = " ".join(str(seed) for seed in seeds[:_SEEDS])
    more = len(seeds) - _SEEDS
    tail = f" and {more:,} more; --plain lists all" if more > 0 else ""
    yield from words.folded(f"{row.trouble}, {len(seeds):,}{told}: {shown}{tail}")
