"""The thermometer in the box: what it should read at the age of the youngest pup."""

from collections.abc import Iterator

from boxlamp.model.happenings import Birth, Death, Milestone, Temperature
from boxlamp.model.levels import LITTER
from boxlamp.model.quantities import plain
from boxlamp.model.story import Story
from boxlamp.rules.ages import ages
from boxlamp.rules.reading import Reading
from boxlamp.rules.scale import Scales
from boxlamp.rules.spell import Band, Spell, Yardstick, span

_CLOCKS = ("day 0-7", "day 8-14", "day 15-28", "day 29 on")


def box_readings(story: Story, yardstick: Yardstick, rule: str) -> Iterator[Spell]:
    """Readings of the box out of band, while living pups are in the house."""
    pups, by_age = Scales(), ages(yardstick, rule, _CLOCKS)
    reading = Reading(Band(rule, yardstick, LITTER), span(yardstick, rule, "stands-for"))
    for entry in story.of(Birth, Death, Milestone, Temperature):
        pups.take(entry)
        match entry.what:
            case Temperature(where="box", celsius=value) if any(pups.here):
                youngest = min(pup.age(entry.at) for pup in pups.here)
                clock = by_age.clock_at(youngest)
                reading.read(entry, clock, value, f"{plain(value)} °C")
            case _ if not any(pups.here):
                reading.close(entry)
            case _:
                pass
    return reading.finish()
