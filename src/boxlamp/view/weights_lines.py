"""The weights of a litter, or of one pup, as lines of styled text for a width.

The words carry everything. Nothing that stands of a pup is ever cut; marks and names may be.
"""

from collections.abc import Iterator
from datetime import timedelta, tzinfo

from boxlamp.growth.curve import LAST_DAY, days_until, most
from boxlamp.growth.spread import Spread
from boxlamp.growth.table import PupGrowth, WeightTable
from boxlamp.model.spans import in_short, in_words
from boxlamp.rules.scale import Weighing
from boxlamp.view.layout import FINE, Glyphs, Line
from boxlamp.view.reminders import pups_words
from boxlamp.view.text import clean, clock_text, counted, day_text, fit, width_of, wrap
from boxlamp.view.weights_table import table_lines
from boxlamp.view.weights_words import (
    ROLES,
    change_words,
    dam_words,
    due_words,
    grams_words,
    pace_words,
    since_words,
    stands_of,
    state_words,
)

_NARROW = 70
_LATE = "* No birth weight: counted from a first weight taken later."
_MOST = "most: by the published curve of greatest growth (Alves 2020). No pup has to reach it."
_COARSE = (
    "Every weight is a multiple of 5 g. If the scale goes in steps of 5 g it is too coarse for "
    "pups under 250 g: take one in steps of 1 g."
)
_WHAT_TO_DO = "What to do: `boxlamp check`. What it rests on: `boxlamp check --why`."
_NO_PUPS = "No pup is written down yet. When one is born: boxlamp log pup dog 312g red"
_DAY = timedelta(days=1)
# How far a pace is drawn out: every published doubling lies well within (our choice).
_FORESEEN, _LEAST_PACE = 28, 0.1
# A birth weight that leads beyond this was a slip of the pen.
_MOST_DIGITS = 5


def litter_lines(
    table: WeightTable, width: int, zone: tzinfo, glyphs: Glyphs = FINE
) -> Iterator[Line]:
    """The table of the whole litter with what is said of it."""
    yield from _head(f"{dam_words(table)}: weights in g", table, width, zone, glyphs)
    for one in table.stands:
        said = f"{one.level.mark} {one.level.word}: {clean(one.message)}"
        yield from ([(ROLES[one.level], line)] for line in wrap(said, width))
    if not table.weighed:
        yield from _plain("text", what_to_type(table), width)
    elif width >= _NARROW:
        yield from table_lines(table, width, zone)
    else:
        for pup in table.pups:
            yield from _narrow(pup, table, width, zone)
    yield from _remarks(table, width)


def what_to_type(table: WeightTable) -> str:
    """How to begin, while nothing was weighed."""
    if not table.pups:
        return _NO_PUPS
    here = [pup.number for pup in table.pups if pup.gone is None][:2] or [1]
    round_words = " ".join(f"{number} {300 + 10 * number}" for number in here)
    return (
        f"No pup has been weighed yet. One pup: boxlamp log weigh {here[0]} 312g. All in one line: "
        f"boxlamp log round {round_words} ..."
    )


def _head(
    title: str, table: WeightTable, width: int, zone: tzinfo, glyphs: Glyphs
) -> Iterator[Line]:
    """Whose weights, and the moment they are shown for."""
    now = f"{day_text(table.at, zone)} {clock_text(table.at, table.at, zone)}"
    yield [("name", fit(title, width - width_of(now) - 2)), ("text", "  "), ("time", now)]
    yield [("dim", glyphs.rule * width)]


def _plain(role: str, words: str, width: int) -> Iterator[Line]:
    return ([(role, line)] for line in wrap(words, width))


def _narrow(pup: PupGrowth, table: WeightTable, width: int, zone: tzinfo) -> Iterator[Line]:
    """One pup as running text, for a screen too narrow for columns."""
    facts = [f"pup {pup.number}", clean(pup.pup.mark or ""), pup.pup.sex or ""]
    weights = [f"birth {grams_words(pup.birth)} g"] if pup.birth is not None else []
    weights += [
        f"d{column.days} {grams_words(column.round.grams[pup.number])} g"
        for column in table.columns[-1:]
        if pup.number in column.round.grams
    ]
    if since_words(pup):
        weights.append(f"{since_words(pup)} % since birth")
    if pup.pace is not None:
        weights.append("{} g, {} % a day".format(*pace_words(pup.pace)))
    title = " ".join(filter(None, facts))
    yield from _plain("text", f"{title}: {', '.join(weights)}" if weights else title, width)
    said = stands_of(pup)
    state = state_words(pup, zone)
    for role, words in [*said, ("text", state)] if state else said:
        yield from ([("text", "  "), (role, line)] for line in wrap(words, width - 2))


def _remarks(table: WeightTable, width: int) -> Iterator[Line]:
    """What is to be said beneath the table."""
    if table.spread is not None:
        yield from _plain("text", spread_words(table.spread, newest=bool(table.columns)), width)
    for words, numbers in _low_at_birth(table).items():
        named = pups_words(numbers, table.verdict.litter)
        yield from _plain("text", f"{named[:1].upper()}{named[1:]}: {words}", width)
    if any(pup.latest is not None and pup.latest.late for pup in table.pups):
        yield from _plain("dim", _LATE, width)
    if table.coarse_scale:
        yield from _plain("owed", _COARSE, width)
    for words in due_words(table):
        yield from _plain("do", f"- {words}", width)
    if table.stands or any(pup.stands for pup in table.pups):
        yield from _plain("dim", _WHAT_TO_DO, width)


def spread_words(found: Spread, *, newest: bool) -> str:
    """The litter of the newest round in one sentence."""
    which = "Newest round" if newest else "Birth weights"
    some = f" ({found.weighed} of {counted(found.of, 'pup', 'pups')})" * (found.weighed < found.of)
    light, heavy = found.lightest, found.heaviest
    if found.weighed == 1:
        return f"{which}{some}: pup {light} alone, {grams_words(found.least)} g."
    return (
        f"{which}{some}: lightest pup {light}, {grams_words(found.least)} g; heaviest pup {heavy}, "
        f"{grams_words(found.greatest)} g."
    )


def _low_at_birth(table: WeightTable) -> dict[str, list[int]]:
    """The pups that were light at birth, by what is said of it."""
    found: dict[str, list[int]] = {}
    for pup in table.pups:
        if pup.birth_class is not None and pup.birth_class.word != "normal":
            words = class_words(pup)
            found.setdefault(f"{words[:1].lower()}{words[1:]}", []).append(pup.number)
    return found


def class_words(pup: PupGrowth) -> str:
    """The class of a birth weight, and what counts as low; nothing when nobody can tell."""
    found = pup.birth_class
    if found is None:
        return ""
    if found.word == "normal":
        return f"Birth weight normal; low: {clean(found.reference)}."
    return f"Birth weight {found.word}: {clean(found.reference)}."


def pup_lines(
    table: WeightTable, pup: PupGrowth, width: int, zone: tzinfo, glyphs: Glyphs = FINE
) -> Iterator[Line]:
    """Every weight of one pup, with what stands of it."""
    title = f"{dam_words(table)}: {clean(pup.pup.name)}, weights in g"
    yield from _head(title, table, width, zone, glyphs)
    born = f"Born {day_text(pup.pup.born, zone)} {clock_text(pup.pup.born, pup.pup.born, zone)}"
    age = f", {in_words(pup.age)} old" if pup.gone is None else ""
    yield from _plain("text", f"{born}{age}.", width)
    for one in pup.stands:
        said = f"{one.level.mark} {one.level.word}: {clean(one.message)}"
        yield from _plain(ROLES[one.level], said, width)
    state = state_words(pup, zone)
    if state:
        yield from _plain("text", f"{state[:1].upper()}{state[1:]}.", width)
    yield from _plain("text", class_words(pup), width) if class_words(pup) else ()
    yield from _weighings(pup, zone)
    if any(_most(pup, one) for one in pup.weighings):
        yield from _plain("dim", _MOST, width)
    yield from _plain("text", pace_sentence(pup), width) if pace_sentence(pup) else ()
    if pup.latest is not None and pup.latest.late:
        yield from _plain("dim", _LATE, width)
    if pup.stands:
        yield from _plain("dim", _WHAT_TO_DO, width)


def _weighings(pup: PupGrowth, zone: tzinfo) -> Iterator[Line]:
    if not pup.weighings:
        return
    yield [("dim", f"{'age':>6} {'weighed':<12}{'g':>7}{'since':>8}{'most':>6}")]
    for one in pup.weighings:
        first = one is pup.first
        day = f"{day_text(one.at, zone)} {clock_text(one.at, one.at, zone)}"
        since = "" if first else f"{change_words(pup.growth_at(one))}%"
        age = "birth" if first and pup.birth is not None else in_short(pup.age_at(one.at))
        row = f"{age:>6} {day:<12}{grams_words(one.grams):>7}{since:>8}{_most(pup, one):>6}"
        yield [("text", row.rstrip())]


def _most(pup: PupGrowth, one: Weighing) -> str:
    """What the curve of greatest growth gives for this birth weight by then."""
    days = pup.age_at(one.at) / _DAY
    if pup.birth is None or days > LAST_DAY or one is pup.first:
        return ""
    grams = f"{float(pup.birth) * most(days):.0f}"
    return grams if len(grams) <= _MOST_DIGITS else ""


def pace_sentence(pup: PupGrowth) -> str:
    """What the newest gain amounts to; nothing when there is none."""
    if pup.pace is None or pup.first is None or pup.latest is None or pup.gone is not None:
        return ""
    grams, percent = pace_words(pup.pace)
    said = f"Newest gain: {grams} g, {percent} % a day."
    missing = float(2 * pup.first.grams / pup.latest.grams)
    if missing > 1 and pup.pace.percent_per_day > _LEAST_PACE:
        days = pup.age_at(pup.latest.at) / _DAY + days_until(missing, pup.pace.percent_per_day)
        if days <= _FORESEEN:
            said += f" At that pace it is at twice its first weight when {days:.0f} days old."
    return said
