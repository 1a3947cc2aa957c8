"""From lines to entries: the clock on the wall, the header of the night, and the text of it."""

from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from typing import NamedTuple

from boxlamp.imagine import figures
from boxlamp.imagine.course import Course
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.kennel import VETS, ZONES
from boxlamp.imagine.line import Line
from boxlamp.imagine.ours import Among, Exactly, Span
from boxlamp.language.say import free, say
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Details, Expect, Mating, Ovulation, Temperature, What
from boxlamp.model.zones import zone_named

_YEAR = Exactly(2026, "", "the year of every night")
_MONTHS = Among((1, 2, 4, 5, 6, 7, 8, 9, 11, 12), "month, never one in which clocks change")
_DAYS = Span(6, 28, "", "day of the month, so that no night reaches a change of the clocks")
_STEP = Exactly(5, "min", "the first strain, and drives to the vet, are in steps of")
_DRIVE = Span(10, 45, "min", "the drive to the vet told beforehand")
_WRITTEN_OUT = Exactly(14, "h", "silence after which the day is written with the time")

LITTER = "night"


class Wall(NamedTuple):
    """The clock on the wall: the zone, and the local time of her first strain."""

    zone: str
    strain: datetime

    def local(self, minutes: float) -> datetime:
        """The local time, to the second, at a minute of the course."""
        return self.strain + timedelta(seconds=round(minutes * 60))

    def instant(self, local: datetime) -> datetime:
        """The instant at which the wall clock shows this."""
        return local.replace(tzinfo=zone_named(self.zone)).astimezone(UTC)


def a_wall(dice: Dice) -> Wall:
    """A place, a day and a time of day: she starts when she starts."""
    zone, month, day = dice.pick(ZONES), dice.pick(_MONTHS.values), dice.whole(*_DAYS.whole)
    steps = round(24 * 60 / _STEP.amount)
    strain = datetime(round(_YEAR.value), month, day)  # noqa: DTZ001 - a wall clock
    strain += timedelta(minutes=_STEP.amount * dice.whole(0, steps - 1))
    return Wall(zone, strain)


def entries_of(course: Course, lines: list[Line], wall: Wall, dice: Dice) -> tuple[Entry, ...]:
    """The entries of the whole night, header first, numbered from 1."""
    begins = wall.local(lines[0].at)
    header = _header(course, wall, begins.date(), dice)
    return (*header, *_night(lines, wall, begins, len(header)))


def _entry(number: int, at: datetime, zone: str, **told: object) -> Entry:
    return Entry.model_validate(
        {"id": number, "litter": LITTER, "at": at, "recorded": at, "zone": zone, **told}
    )


def _header(course: Course, wall: Wall, day: date, dice: Dice) -> list[Entry]:
    """What was known before: the dam, the day she was mated or ovulated, the count."""
    dam = course.dam
    ovulated = wall.strain.date() - timedelta(days=dam.days)
    mated = ovulated - timedelta(days=dam.mated_before)
    details, said = _details(course, wall, dice)
    start = datetime.combine(day, time())
    told: list[tuple[datetime, What, str]] = [(start, details, said)]
    told.append((_noon(mated), Mating(), f"mated: {mated}"))
    if dice.chance(figures.OVULATION_KNOWN.value):
        told.append((_noon(ovulated), Ovulation(basis="ovulation"), f"ovulation: {ovulated}"))
    expect = Expect(count=course.counted, method=course.counted_by)
    told.append((start, expect, f"expected: {course.counted} {course.counted_by}"))
    return [
        _entry(number, wall.instant(local), wall.zone, certainty="day", what=what, text=text)
        for number, (local, what, text) in enumerate(told, start=1)
    ]


def _noon(day: date) -> datetime:
    """A day of which no hour is known stands in the record at its noon."""
    return datetime.combine(day, time(12))


def _details(course: Course, wall: Wall, dice: Dice) -> tuple[Details, str]:
    """Facts about the dam and the vet, and the lines that say them."""
    dam, vet, travel = course.dam, f"{dice.pick(VETS)} (invented)", _drive(dice)
    kilos = f"{dam.kilos:.1f}".removesuffix(".0")
    details = Details(
        dam=dam.name,
        breed=dam.breed,
        age_years=Decimal(dam.years),
        weight=Decimal(kilos) * 1000,
        first_litter=dam.first_litter,
        zone=wall.zone,
        vet=vet,
        travel_minutes=travel,
    )
    first = "yes" if dam.first_litter else "no"
    said = (
        f"dam: {dam.name}", f"breed: {dam.breed}", f"weight: {kilos}kg", f"age: {dam.years}y",
        f"first-litter: {first}", f"vet: {vet}", f"travel: {travel}", f"zone: {wall.zone}",
    )  # fmt: skip
    return details, "\n".join(said)


def _drive(dice: Dice) -> int:
    step = round(_STEP.amount)
    least, most = _DRIVE.whole
    return step * dice.whole(least // step, most // step)


def _night(lines: list[Line], wall: Wall, last: datetime, known: int) -> Iterator[Entry]:
    """The lines as entries. No clock changes in a night, so the wall clock runs evenly."""
    first = last
    zero = wall.instant(last)
    for number, line in enumerate(lines, start=known + 1):
        local = wall.local(line.at)
        text = f"{'~' if line.estimated else ''}{_when(local, last, line)} {_words(line)}"
        certainty = "estimated" if line.estimated else "seen"
        at = zero + (local - first)
        yield _entry(number, at, wall.zone, certainty=certainty, what=line.what, text=text,
                     note=line.note)  # fmt: skip
        last = local


def _when(local: datetime, last: datetime, line: Line) -> str:
    """The time as it is written: the clock alone, and the day too after a long silence."""
    clock = f"{local.hour:02}:{local.minute:02}"
    if line.exact:
        clock += f":{local.second:02}"
    return (
        f"{local.date()} {clock}"
        if local - last > timedelta(minutes=_WRITTEN_OUT.amount)
        else clock
    )


def _words(line: Line) -> str:
    """What is said, as short as a person says it."""
    words = say(line.what)
    match line.what:
        case Birth(pup=pup):
            words = words.replace(f"pup {pup}", "pup", 1)
        case Temperature(celsius=celsius, where="dam"):
            words = f"temp {celsius}"
        case Temperature(celsius=celsius, where="box"):
            words = f"temp box {celsius}"
        case Temperature(celsius=celsius, pup=int(pup)):
            words = f"temp pup {pup} {celsius}"
        case _:
            pass
    return f"{words}; {free(line.note, noted=True)}" if line.note else words


def text_of(entries: tuple[Entry, ...], above: tuple[str, ...]) -> str:
    """The night as a file: comments, the header, an empty line, and every line as written."""
    header = [entry for entry in entries if entry.certainty == "day"]
    details, *known = (entry.text for entry in header)
    day = entries[len(header)].at.astimezone(zone_named(entries[0].zone)).date()
    return "\n".join((
        *above, details, f"date: {day}", *known, "",
        *(entry.text for entry in entries[len(header):]), "",
    ))  # fmt: skip
