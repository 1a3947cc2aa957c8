"""The dam, the people around her, and the day she was due."""

from boxlamp.model.zones import zone_named
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.models import Dam, DueBasis
from boxlamp.planning.dates import due_dates
from boxlamp.planning.follow import birthday
from boxlamp.rules.term import local_day


def dam_of(matter: Matter) -> Dam:
    """What was last said of the dam. What nobody said, or said with no words, is ``None``."""
    details = matter.verdict.litter.details
    return Dam(
        name=details.dam or None,
        breed=details.breed or None,
        age_years=details.age_years,
        weight_g=details.weight,
        first_litter=details.first_litter,
        flat_faced=details.flat_faced,
        toy=details.toy,
        earlier_dystocia=details.earlier_dystocia,
        earlier_caesarean=details.earlier_caesarean,
        vet=details.vet or None,
        vet_phone=details.vet_phone or None,
        night_phone=details.night_phone or None,
        travel_minutes=details.travel_minutes,
        risks=matter.verdict.book.now.risks,
    )


def due_of(matter: Matter) -> tuple[DueBasis, ...]:
    """The day she was due by every basis known before the birth, the most trusted first.

    The day of the count is that of the first birth by the wall clock it was typed by; without a
    birth that of the caesarean or of the end of the whelping, and before those today.
    """
    verdict = matter.verdict
    first = birthday(verdict.story)
    day = verdict.at.astimezone(zone_named(matter.zone)).date()
    if first is not None:
        day = local_day(first)
    return tuple(
        DueBasis(
            basis=one.told,
            day=one.day,
            due=one.due,
            earliest=one.earliest,
            latest=one.latest,
            accuracy=one.accuracy,
            drives=one.drives,
            remembered=one.remembered,
            counted_from=one.counted_from,
            day_of_count=one.day_on(day),
        )
        for one in due_dates(verdict.story, verdict.book).bases
    )
