"""She rests after long weak pushing, and no pup has come.

What it watches: a rest that ends pushing without a birth, when she had pushed weakly for long
enough for the call of `weak-contraction-no-pup`. That alert ends with the rest; this one takes
its place at the same level, a call or a go, and the rest makes it neither lower nor higher. How
long she pushed counts from the first weak push, short rests included; strong pushes in between
stop nothing. The limits are those of `weak-contraction-no-pup`, as the vet may have changed them.
A birth, a caesarean or "finished" ends it. When she rests only briefly and then pushes weakly
again, `weak-contraction-no-pup` counts on and this alert ends. Strong pushes do not end it, nor
does new pushing after a longer rest.

Why it matters: a womb that has worked weakly for hours may be tired out and stop, and the pups
are still inside. From outside that looks like peace. A rest is no proof that all is well, so it
takes no call back.

What to do: ring, or leave, as if she still pushed. Say how long she pushed and when she stopped.
Go on writing down every push and how strong it is, every pup and any discharge. Never give
anything to make her push again.

Example:
    02:00 contraction weak
    04:10 rest
    #= 04:10 call weak-rest-no-pup
    04:30 contraction weak
    #= 04:30 cleared weak-rest-no-pup
    06:20 rest
    #= 06:20 go weak-rest-no-pup
    06:50 pup
    #= 06:50 cleared weak-rest-no-pup
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules import weak_contraction_no_pup
from boxlamp.rules.pushing import kept, turns
from boxlamp.rules.rule import Rule
from boxlamp.rules.spell import Spell, Yardstick
from boxlamp.rules.weak_contraction_no_pup import WEAK

ID = "weak-rest-no-pup"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From each rest that ends weak pushing: the pushing's clock, held where it stopped."""
    return kept(ID, turns(story, yardstick, weak_contraction_no_pup.ID, WEAK))


RULE = Rule(
    id=ID,
    group="labour",
    title="Rests after long weak pushing, no pup",
    watch=watch,
    says={"": "Weak contractions began {ago}, and she stopped after {detail}. No pup has come."},
    do={
        Level.CALL: (
            "Ring the vet now. Say how long she pushed weakly, and that she has stopped.",
            "That she rests is no proof that all is well: the womb may be tired out.",
            "Keep writing down every push and any discharge while you wait.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Say how long she pushed weakly, and that she has stopped.",
            "Take any pups already born, warm, in their own box.",
        ),
    },
    page=__doc__,
    on_board=False,
)
