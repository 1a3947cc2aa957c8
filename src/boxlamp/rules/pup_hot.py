"""A pup is too hot.

What it watches: each temperature of a pup from its second hour on, held against the limits of
its age. A high reading opens the alert; the next one in band ends it, or a day without any. A
newborn pup is as warm as its dam, so the first hour says nothing. One clock per pup.

Why it matters: a pup can neither pant well nor crawl far. Under a lamp or on a heat pad it
overheats and dries out within an hour or two. When no lamp explains it, it may be an infection.

What to do: take it off the heat and let it lie where it is cooler. No cold water. Look at the
other pups and at the box, and measure again in half an hour.

Example:
    02:00 pup
    06:00 temp pup 1 37.9
    #= 06:00 watch pup-hot pup 1
    06:20 temp pup 1 39.0
    #= 06:20 call pup-hot pup 1
    06:50 temp pup 1 37.4
    #= 06:50 cleared pup-hot pup 1
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.story import Story
from boxlamp.rules.pup_temperature import KINDS, Thermometers
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick

ID = "pup-hot"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """High temperatures of every pup, and the reminder to measure again."""
    pups = Thermometers(ID, yardstick)
    for entry in story.of(*KINDS):
        measured = pups.take(entry)
        if measured is None:
            continue
        scale, value = measured
        pups.read(scale, entry, value)
        subject = pup_subject(scale.pup)
        pups.clocks.cut(entry, subject=subject)
        if pups.readings[scale.pup].band.running:
            pups.clocks.renew(entry, "again", lasts=pups.lasts, subject=subject)
    return pups.finish()


_COOL = "Take it off the lamp or pad, and let it lie where it is cooler. No cold water."

RULE = Rule(
    id=ID,
    group="each pup",
    title="Pup too hot",
    watch=watch,
    says={
        "": "Off the heat: {subject}, at {detail}.",
        "again": "Keep off the heat and measure again: {subject}.",
    },
    do={
        Level.PROMPT: ("Write the temperature down.",),
        Level.WATCH: (
            _COOL,
            "Feel the other pups, and measure the box where they lie.",
            "Measure again in 30 minutes and write it down.",
        ),
        Level.CALL: (
            "Ring the vet now. Say the temperature, the age of the pup, and where it lay.",
            _COOL,
        ),
    },
    page=__doc__,
    on_board=False,
)
