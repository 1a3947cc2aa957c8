"""Two protocols side by side over the same nights: what differs, and what does not by its name."""

from collections.abc import Iterator

from boxlamp.trial import words
from boxlamp.trial.intervals import Figure
from boxlamp.trial.report import Compared, Report, TroubleRow

_HUNDRED = 100
_LEVELS = (22, 18, 18, 22)
_RULES = (31, 14, 14, 21)
_TROUBLES = (19, 7, 17, 17, 20)
_TIMES = (20, 10, 25, 25)


def apart_lines(found: Report) -> Iterator[str]:
    """What both sides cost, what both catch, and in which nights only one of them did."""
    if found.normal:
        yield ""
        yield from _levels(found)
        yield ""
        yield from _rules(found)
        yield from words.folded(f"Never raised: {', '.join(found.never)}.")
    if found.troubled:
        yield ""
        yield from _troubles(found)
        yield ""
        yield from _times(found)
        yield ""
        yield from _missed(found)


def _levels(found: Report) -> Iterator[str]:
    names = [side.name for side in found.sides]
    yield words.row(_LEVELS, f"{found.normal:,} normal nights", *names, "difference")
    yield "In 100 of them, alerts"
    for row in reversed(found.levels):
        yield _normal(_LEVELS, words.level(row.level), row.alerts)
    yield "In 100 of them, nights with any"
    for row in reversed(found.levels):
        yield _normal(_LEVELS, words.level(row.level), row.nights)


def _rules(found: Report) -> Iterator[str]:
    names = [side.name for side in found.sides]
    yield words.row(_RULES, "Alerts, where the two differ", *names, "difference")
    for row in found.rules:
        if not row.alerts.same:
            yield _normal(_RULES, f"{row.level.mark:<3} {row.rule}", row.alerts)
    alike: dict[str, list[str]] = {}
    for row in found.rules:
        if row.alerts.same:
            alike.setdefault(row.rule, []).append(row.level.word)
    told = "; ".join(f"{rule} {', '.join(levels)}" for rule, levels in alike.items())
    if told:
        yield from words.folded(f"The same on every night: {told}.")


def _normal(widths: tuple[int, ...], head: str, compared: Compared) -> str:
    sides = [words.rate(side, _HUNDRED) for side in compared.sides]
    return words.row(widths, head, *sides, words.apart(compared, _HUNDRED))


def _troubles(found: Report) -> Iterator[str]:
    names = [side.name for side in found.sides]
    yield f"{found.troubled:,} troubled nights. Missed: no call or go stood in the whole of it."
    yield words.row(_TROUBLES, "", "nights", *(f"% {name}" for name in names), "difference")
    every = found.troubles[0]
    yield _trouble("all, missed", every, every.missed)
    yield _trouble("all, flagged", every, every.flagged)
    for row in found.troubles[1:]:
        if not row.missed.same:
            yield _trouble(row.trouble, row, row.missed)
    alike = ", ".join(row.trouble for row in found.troubles[1:] if row.missed.same)
    if alike:
        yield from words.folded(f"The same nights missed: {alike}.")
    yield from words.folded(
        "Flagged: a call or go was raised in it, in time. A sooner limit may flag less, where its "
        "call comes before the trouble and still stands; it never misses more."
    )


def _trouble(head: str, row: TroubleRow, compared: Compared) -> str:
    shares = [words.percent(share) for share in compared.sides]
    return words.row(_TROUBLES, head, f"{row.nights}", *shares, words.apart(compared, _HUNDRED))


def _times(found: Report) -> Iterator[str]:
    """When each trouble was flagged, where the two sides did not do so at the same minute."""
    yield "When flagged, in hours and minutes: the median (and the quartiles)"
    yield words.row(_TIMES, "", "", "after it began", "before its end")
    names = [side.name for side in found.sides]
    alike = list[str]()
    for row in found.troubles:
        if row.sooner in {None, Figure(0, 0, 0), Figure(0)} and row.flagged.same:
            alike.append(row.trouble)
            continue
        for name, caught in zip(names, row.caught, strict=True):
            head = row.trouble if name == names[0] else ""
            yield words.row(
                _TIMES, head, name, words.times(caught.after), words.times(caught.before)
            )
        if row.sooner is not None:
            yield f"{'':<20}{names[1]:>10}: told to ring {words.sooner(row.sooner)}"
    if alike:
        yield from words.folded(f"Flagged at the same minute: {', '.join(alike)}.")


def _missed(found: Report) -> Iterator[str]:
    """The nights that only one side missed: they show what the difference is made of."""
    by_side = [
        {(one.trouble, one.seed) for one in found.missed if one.side == side} for side in (0, 1)
    ]
    both = len(by_side[0] & by_side[1])
    yield f"Missed by both: {words.counted(both)}; --plain lists all."
    for place, side in enumerate(found.sides):
        only = sorted(by_side[place] - by_side[1 - place])
        yield f"Missed by {side.name} only: {words.counted(len(only))}."
        for row in found.troubles[1:]:
            seeds = [seed for trouble, seed in only if trouble == row.trouble]
            if seeds:
                yield from words.folded(f"{row.trouble}, {len(seeds):,}: {words.seeds(seeds)}")
    if found.missed:
        yield from words.folded(words.LOOK)
