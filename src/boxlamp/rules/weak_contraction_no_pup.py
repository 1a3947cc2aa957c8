"""Weak contractions and no pup.

What it watches: the time since the first weak contraction since the last birth or rest. A birth
or a rest stops the clock. A rest that comes after the call takes no call back:
`weak-rest-no-pup` goes on with it. When she rests only briefly and then pushes weakly again, the
clock goes on from where it began. A strong push is another rule's business: it neither starts
nor stops this one.

Why it matters: weak, irregular pushes that bring no pup may mean that the womb is tiring or has
never got going. There is more time than with strong pushes, but not the whole night.

What to do: write down each push and how strong it was. Keep her quiet, dim and undisturbed.
Never give anything to make her push.

Example:
    02:00 contraction weak
    #= 03:00 watch weak-contraction-no-pup
    #= 04:00 call weak-contraction-no-pup
    04:20 pup
    #= 04:20 cleared weak-contraction-no-pup
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.pushing import pushing
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick

ID = "weak-contraction-no-pup"
WEAK = ("weak",)


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """Spells of weak pushing without a birth."""
    return pushing(story, yardstick, ID, WEAK)


RULE = Rule(
    id=ID,
    group="labour",
    title="Weak contractions, no pup",
    watch=watch,
    says={"": "Weak contractions began {ago} and no pup has come."},
    do={
        Level.WATCH: (
            "Write down each push, weak or strong. Get the car and the vet's number ready.",
            "Keep her quiet; take her out on a lead for a minute if she wants to go.",
        ),
        Level.CALL: (
            "Ring the vet now. Say how long she has pushed weakly and when the last pup came.",
            "Keep writing down every push and any discharge while you wait.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Take any pups already born, warm, in their own box.",
        ),
    },
    page=__doc__,
    running="Weak contractions",
)
