"""A pup is cold.

What it watches: each temperature of a pup, held against the limits of its age. In the first hour
every pup cools down and only a reminder asks to measure again; then the limits rise with its days.
A low reading opens the alert; the next one in band ends it, or a day without any. On the first
day it is also a call when a pup has stayed too cold to be fed for an hour. One clock per pup.

Why it matters: for its first days a pup cannot shiver, and it cools within minutes. Once it is
under about 34.4 °C its gut stops: milk comes up and is breathed in, and the dam may push the pup
away. So it is warmed first and fed after.

What to do: warm it slowly, over one to three hours: against your skin, or on a wrapped bottle of
warm water. Too fast can kill. Do not feed it until it is at 35.0 °C. Measure again in half an
hour and write it down.

Example:
    02:00 pup
    04:00 temp pup 1 34.9
    #= 04:00 watch pup-cold pup 1
    #= 04:30 prompt pup-cold pup 1
    04:40 temp pup 1 34.3
    #= 04:40 call pup-cold pup 1
    06:00 temp pup 1 35.0
    #= 06:00 cleared pup-cold pup 1
"""

from collections.abc import Iterator
from decimal import Decimal

from boxlamp.model.entry import Entry
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.quantities import rounded
from boxlamp.model.story import Story
from boxlamp.rules.pup_temperature import CLOCKS, KINDS, Thermometers
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import Scale
from boxlamp.rules.spell import Spell, Yardstick

ID = "pup-cold"


class _Watch(Thermometers):
    """The readings of every pup, and how long it has been too cold to be fed."""

    def heed(self, scale: Scale, entry: Entry, value: Decimal) -> None:
        """Take in one reading of one pup."""
        least = self.yardstick.number(ID, "feed-from")
        unfed = f"do not feed until {rounded(least)} °C"
        too_cold = value < least
        self.read(scale, entry, value, f"; {unfed}" if too_cold else "")
        subject = pup_subject(scale.pup)
        if too_cold or self.readings[scale.pup].band.running:
            self.clocks.cut(entry, "again", subject=subject)
            self.clocks.renew(entry, "again", lasts=self.lasts, subject=subject, detail=unfed)
        else:
            self.clocks.cut(entry, "again", subject=subject)
        if too_cold:
            self._warm(scale, entry, unfed)
        else:
            self.clocks.cut(entry, "warming", subject=subject)

    def _warm(self, scale: Scale, entry: Entry, unfed: str) -> None:
        """Let the hour of warming begin, on the first day and after the first hour, or go on."""
        subject = pup_subject(scale.pup)
        begins = self.clock(scale, entry) == CLOCKS[0]
        if begins or self.clocks.standing(entry.at, "warming", subject):
            self.clocks.renew(entry, "warming", lasts=self.lasts, subject=subject, detail=unfed)


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """Low temperatures of every pup, the reminder to measure again, and the hour of warming."""
    pups = _Watch(ID, yardstick)
    for entry in story.of(*KINDS):
        measured = pups.take(entry)
        if measured is not None:
            scale, value = measured
            pups.heed(scale, entry, value)
    return pups.finish()


_WARM = "Warm it slowly, over 1 to 3 hours: against your skin, or on a wrapped warm bottle."
_UNFED = "Do not feed it under 35.0 °C: it cannot digest, and may breathe the milk in."

RULE = Rule(
    id=ID,
    group="each pup",
    title="Pup cold",
    watch=watch,
    says={
        "": "Warm slowly: {subject}, at {detail}.",
        "warming": "Keep warming: {subject}, cold {lasting}; {detail}.",
        "again": "Warm slowly, {detail}, and measure again: {subject}.",
    },
    do={
        Level.PROMPT: ("Write the temperature down.",),
        Level.WATCH: (_WARM, _UNFED, "Measure again in 30 minutes and write it down."),
        Level.CALL: (
            _WARM,
            "Ring the vet now. Say the temperature, the age of the pup, and how you warm it.",
            _UNFED,
        ),
    },
    page=__doc__,
    urgency="minutes",
    on_board=False,
)
