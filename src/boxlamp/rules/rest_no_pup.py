"""She rests after long strong pushing, and no pup has come.

What it watches: a rest that ends strong (or unspecified) pushing without a birth, when the
pushing had lasted long enough for the call of `contraction-no-pup`. That alert ends with the
rest; this one takes its place at the same level, a call or a go, and the rest makes it neither
lower nor higher. How long she pushed counts from the first push, short rests included. A birth
or a caesarean ends it; "finished" does so only when the vet or a scan says it. When she
rests only briefly and then pushes hard again, `contraction-no-pup` counts on and this alert ends.
New pushing after a longer rest does not end it.

Why it matters: she may stop because she is tired out, or because a pup is stuck. From outside
that looks like a quiet dam, and the pup inside may be short of oxygen. A rest is no proof that
all is well, so it takes no call back.

What to do: ring, or leave, as if she still pushed. Say how long she pushed hard and when she
stopped. Go on writing down every push, every pup and any discharge. Never pull, and never give
anything to make her push again.

Example:
    02:00 contraction strong
    02:25 rest
    #= 02:25 call rest-no-pup
    02:40 contraction strong
    #= 02:40 cleared rest-no-pup
    02:50 rest
    #= 02:50 go rest-no-pup
    03:40 pup
    #= 03:40 cleared rest-no-pup
"""

from collections.abc import Iterator

from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules import contraction_no_pup
from boxlamp.rules.contraction_no_pup import STRONG
from boxlamp.rules.pushing import kept, turns
from boxlamp.rules.rule import Rule
from boxlamp.rules.simple import only_said
from boxlamp.rules.spell import Spell, Yardstick

ID = "rest-no-pup"


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """From each rest that ends strong pushing: the pushing's clock, held where it stopped."""
    return kept(ID, turns(story, yardstick, contraction_no_pup.ID, STRONG, unless=only_said))


RULE = Rule(
    id=ID,
    group="labour",
    title="Rests after long pushing, no pup",
    watch=watch,
    says={"": "Strong contractions began {ago} and stopped after {detail}. No pup has come."},
    do={
        Level.CALL: (
            "Ring the vet now. Say how long she pushed hard, and that she has stopped.",
            "That she rests is no proof that all is well: she may be tired out, or a pup stuck.",
            "Keep writing down every push and any discharge while you wait.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Say how long she pushed hard, and that she has stopped.",
            "Take any pups already born, warm, in their own box.",
        ),
    },
    page=__doc__,
    never_relaxed=True,
    urgency="minutes",
    on_board=False,
)
