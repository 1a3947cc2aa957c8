"""The preparation list as lines of styled text: what is ready, what is missing, and by when."""

from collections.abc import Iterable, Iterator
from datetime import date

from boxlamp.planning.kit import GROUPS, Ticked
from boxlamp.view.layout import Line
from boxlamp.view.text import away_text, clean, date_text, width_of, wrap
from boxlamp.view.words import CAUTION

_NARROW = 60
_HOW = "Tick one off: boxlamp kit towels. Used up: boxlamp kit towels --missing."


def kit_lines(  # noqa: PLR0913 - the list, whose it is, the day, and how it is to be told
    lines: tuple[Ticked, ...],
    dam: str,
    today: date,
    width: int,
    *,
    others: Iterable[str] = (),
    why: bool = False,
) -> Iterator[Line]:
    """The whole list, what is missing last, because that is what is read."""
    yield from headline_lines(lines, dam, today, width)
    for group, title in GROUPS.items():
        yield []
        yield from _text("dim", title, width)
        for line in lines:
            if line.item.group == group:
                yield from _item(line, width, why=why)
    extra = ", ".join(map(clean, others))
    if extra:
        yield []
        yield from _text("text", f"Also written down: {extra}.", width)
    yield []
    yield from missing_lines(lines, today, width)
    yield from _text("dim", _HOW, width)
    yield from _text("dim", CAUTION, width)


def headline_lines(lines: tuple[Ticked, ...], dam: str, today: date, width: int) -> Iterator[Line]:
    """How much is ready, for a width."""
    return _text("name", kit_headline(lines, dam, today), width)


def kit_headline(lines: tuple[Ticked, ...], dam: str, today: date) -> str:
    """How much is ready, and by when all of it should be."""
    ready, whole = sum(line.ready for line in lines), len(lines)
    said = f"Kit for {clean(dam)}: {ready} of {whole} ready."
    days = [line.by for line in lines if line.by is not None]
    if not days:
        return f"{said} No due day is known yet: see `boxlamp due`."
    last = max(days)
    return f"{said} All of it by {date_text(last)}, {away_text(last, today)}."


def missing_lines(lines: tuple[Ticked, ...], today: date, width: int) -> Iterator[Line]:
    """What is not ready and by when it should be; how a fact is written down that answers it."""
    open_ = [line for line in lines if not line.ready]
    if not open_:
        yield from _text("calm", "Nothing is missing.", width)
    groups: dict[date | None, list[str]] = {}
    for line in sorted(open_, key=lambda line: line.by or date.max):
        groups.setdefault(line.by, []).append(line.item.id)
    for by, names in groups.items():
        when = f" by {date_text(by)} ({away_text(by, today)})" if by is not None else ""
        yield from _text("do", f"Missing{when}: {', '.join(names)}.", width)
    for line in open_:
        if line.item.how:
            yield [("dim", f"  {line.item.id}: boxlamp {line.item.how}")]


def _item(line: Ticked, width: int, *, why: bool) -> Iterator[Line]:
    item, role = line.item, "text" if line.ready else "do"
    lead = f"  [{'x' if line.ready else ' '}] {item.id:<15} "
    if width < _NARROW:
        yield [(role, lead.rstrip())]
        lead = " " * 6
        parts = wrap(item.what, width - len(lead))
        yield from ([("dim", lead + part)] for part in parts)
    else:
        first, *more = wrap(item.what, width - width_of(lead))
        yield [(role, lead + first)]
        yield from ([(role, " " * width_of(lead) + part)] for part in more)
    if why:
        yield from (
            [("dim", f"      {part}")] for part in wrap(f"{item.why} [{item.source}]", width - 6)
        )


def _text(role: str, text: str, width: int) -> Iterator[Line]:
    return ([(role, line)] for line in wrap(text, width))
