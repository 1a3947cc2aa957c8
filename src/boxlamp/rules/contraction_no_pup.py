"""Strong contractions and no pup.

What it watches: the time since the first strong (or unspecified) contraction since the last
birth or rest. A birth or a rest stops the clock; "finished" does so only when the vet or a scan
says it. A rest that comes after the call takes no call back: `rest-no-pup` goes on with it.
When she rests only briefly and then pushes hard again, it was one spell of pushing, and the clock
goes on from where it began.

Why it matters: a pup that does not come in spite of strong pushing may be stuck, and while it
is stuck it may be short of oxygen. The published lists say 20 to 30 minutes; the call belongs
at the beginning of that and the car at the end of it.

What to do: write down every push you see. At the watch level check for anything at the vulva
and get ready to travel. Never pull hard, and never give anything to make her push.

Example:
    02:00 contraction strong
    02:10 rest
    02:18 contraction strong
    #= 02:18 watch contraction-no-pup
    #= 02:20 call contraction-no-pup
    #= 02:30 go contraction-no-pup
    02:34 pup
    #= 02:34 cleared contraction-no-pup
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.pushing import pushing
from boxlamp.rules.rule import Rule
from boxlamp.rules.simple import only_said
from boxlamp.rules.spell import Spell, Yardstick

ID = "contraction-no-pup"
STRONG = ("strong", "unspecified")
"""What counts as strong: nobody who says only that she pushes means that it is weak."""


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """Spells of strong pushing without a birth."""
    return pushing(story, yardstick, ID, STRONG, unless=only_said)


RULE = Rule(
    id=ID,
    group="labour",
    title="Strong contractions, no pup",
    watch=watch,
    says={"": "Strong contractions began {ago} and no pup has come."},
    do={
        Level.WATCH: (
            "Look for a sac, head or feet at the vulva. Get the car and the vet's number ready.",
        ),
        Level.CALL: (
            "Ring the vet now. Say how long she has pushed hard and when the last pup came.",
            "Keep writing down every push and any discharge while you wait.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take any pups already born, warm, in their own box.",
        ),
    },
    page=__doc__,
    urgency="minutes",
    running="Strong contractions",
    never_relaxed=True,
)
