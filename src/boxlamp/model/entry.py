"""One entry: when it happened, when it was typed, by whom, and what it says."""

from datetime import MAXYEAR, MINYEAR, UTC, datetime
from typing import Annotated, Literal

from pydantic import AfterValidator, AwareDatetime, BaseModel, ConfigDict, Field

from boxlamp.model.happenings import Happening

YEARS = range(1990, 2201)
"""The years an entry may lie in: room for every calculation with limits before and behind."""


def whole_utc_second(moment: datetime) -> datetime:
    """The same instant in UTC, cut to the second. All arithmetic is done on such instants."""
    # The years are those of UTC, in which it is kept. The very first and last years there are
    # may have no such instant, and need none.
    held = moment if moment.year in {MINYEAR, MAXYEAR} else moment.astimezone(UTC)
    if held.year not in YEARS:
        raise ValueError(f"the year {held.year} is not between {YEARS[0]} and {YEARS[-1]}")
    return held.replace(microsecond=0)


Instant = Annotated[AwareDatetime, AfterValidator(whole_utc_second)]

Certainty = Literal["seen", "estimated", "day"]
"""Whether the time was seen on a clock, is an estimate, or only the day is known."""


class Entry(BaseModel):
    """One line of the record. Frozen: a correction is another entry that names this one.

    ``id`` counts from 1 within the litter and is what a person types to name an entry.
    ``at`` is when it happened and ``recorded`` when it was typed, both UTC to the second;
    ``zone`` is the IANA zone of the wall clock it was read from. ``text`` is the raw line.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    id: Annotated[int, Field(ge=1)]
    litter: Annotated[str, Field(min_length=1, max_length=200)]
    at: Instant
    zone: Annotated[str, Field(max_length=100)] = "UTC"
    certainty: Certainty = "seen"
    recorded: Instant
    by: Annotated[str, Field(max_length=500)] = ""
    text: Annotated[str, Field(max_length=20_000)] = ""
    note: Annotated[str, Field(max_length=20_000)] = ""
    what: Happening


class Draft(BaseModel):
    """An entry before the journal has given it a number: what one typed line means."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    at: Instant
    zone: str = "UTC"
    certainty: Certainty = "seen"
    text: str = ""
    note: str = ""
    what: Happening

    def numbered(self, number: int, litter: str, recorded: datetime, by: str = "") -> Entry:
        """Give the draft its place in a litter's record."""
        return Entry(
            id=number,
            litter=litter,
            at=self.at,
            zone=self.zone,
            certainty=self.certainty,
            recorded=recorded,
            by=by,
            text=self.text,
            note=self.note,
            what=self.what,
        )
