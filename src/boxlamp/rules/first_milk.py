"""A pup has had no first milk.

What it watches: the time since a live birth, until `milk` or a feed at the teat is written down
for that pup, or its death. A limp pup counts as live, and so does one that breathes after it was
written down as dead. Bottle and tube do not count: they hold no first milk from this dam. One
clock per pup, after a caesarean too. After two days it ends by itself: the gut has long closed,
and the scale says more.

Why it matters: nearly all of a pup's early protection comes from the first milk, and its gut
takes that up for some hours only: about half as well after 4 hours as at birth, and hardly at
all after 12 to 16.

What to do: warm the pup first, a cold pup cannot digest. Then hold it to a teat and see it
swallow. Between two births is a good time.

Example:
    02:00 pup
    #= 04:00 watch first-milk pup 1
    05:00 milk 1
    #= 05:00 cleared first-milk pup 1
"""

from collections.abc import Iterator

from boxlamp.model.happenings import Birth, Death, Feed, Step
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.story import Story
from boxlamp.rules.foreseen import Foreseen
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick, span

ID = "first-milk"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """For each pup, from its birth until it has drunk from the dam, or is too old for it."""
    clocks, until = Foreseen(ID), span(yardstick, ID, "until")
    for entry in story.of(Birth, Step, Feed, Death):
        match entry.what:
            case Birth(pup=pup, state=state) if state != "dead":
                end = entry.at + until
                clocks.plan(entry, since=entry.at, end=end, subject=pup_subject(pup))
            case Step(pup=pup, step="milk") | Feed(pup=pup, how="teat") | Death(pup=pup):
                clocks.cut(entry, subject=pup_subject(pup))
            case _:
                pass
    return clocks.finish()


RULE = Rule(
    id=ID,
    group="each pup",
    title="No first milk yet",
    watch=watch,
    says={"": "No first milk for {subject}, born {ago}."},
    do={
        Level.PROMPT: ("Once it is warm, put it to a teat and see it swallow.",),
        Level.WATCH: (
            "Warm the pup, hold it to a teat, and see it swallow. Then write down `milk`.",
            "Do not feed a cold pup: warm it first.",
        ),
        Level.CALL: (
            "Ring the vet now. Say how old the pup is and that it has had no first milk.",
            "Keep it warm, and keep trying at the teat.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take the pup warm against you or in a warm box. Ask whether to bring the dam.",
        ),
    },
    page=__doc__,
    running="First milk to come",
)
