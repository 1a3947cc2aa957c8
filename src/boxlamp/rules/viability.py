"""A newborn pup scores low, or lacks a reflex.

What it watches: each `score`: heart, breathing, reflex, movement and colour, with 0, 1 or 2
points each and `?` for what was not taken. 7 to 10 is normal, 4 to 6 is watched, 3 or less is a
call. So is 6 or less from an hour of age on, and a fall by two points or more. Items not taken
make a range, and only the whole of it counts: 3 to 5 is watched, 7 to 9 is normal. A reminder
asks to score again a quarter of an hour after a score that was not well, and at an hour of age.
The next normal score ends it, unless it has fallen again; so do `well`, and half a day without a
score. A sucking or righting reflex that is absent at an hour of age or later, in a pup that is
not cold, is a call until it is there.

Heart: 0 under 180 beats a minute, 1 from 180 to 220, 2 over 220.

Breathing: 0 no cry and under 6 breaths a minute, 1 a weak cry and 6 to 15, 2 a cry and over 15.
Where cry and breaths differ, the breaths count.

Reflex, to a light pinch of a toe or the tail: 0 none, 1 a grimace, 2 it answers with vigour.

Movement: 0 limp, 1 it bends its legs somewhat, 2 it moves about.

Colour of the gums: 0 blue, 1 pale, 2 pink.

Why it matters: pups that score low five minutes after birth die more often within a day, and
fewer of them look for the teat. Most have picked up by the end of the first hour. A pup that has
not, or that cannot suck, needs more than a towel.

What to do: score at 5 minutes, and at 15 and 60 minutes again when it was under 7. Clear its
mouth and nose, rub it, keep it warm. A heart of 200 is hard to count: write `?` rather than guess.

Example:
    02:00 pup
    02:05 score 1 1 1 1 1 0
    #= 02:05 watch viability pup 1
    #= 02:20 prompt viability pup 1
    02:22 score 1 2 2 ? 2 1
    #= 02:22 cleared viability pup 1
    04:00 reflex 1 suckle 0 righting 2
    #= 04:00 call viability pup 1
    04:30 reflex 1 suckle 2
    #= 04:30 cleared viability pup 1
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Death, Milestone, PupState, Score
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.story import Story
from boxlamp.rules import reflexes
from boxlamp.rules.reflexes import Tested
from boxlamp.rules.renewed import Renewed
from boxlamp.rules.rule import Rule
from boxlamp.rules.scale import Scale, Scales
from boxlamp.rules.scores import Scores, total
from boxlamp.rules.spell import Spell, Yardstick, span

ID = "viability"
_AGAIN, _AT_AN_HOUR = "again", "hour"


@dataclass(eq=False, repr=False)
class _Newborns:
    """Every pup's scores and reflexes, and when to score again."""

    yardstick: Yardstick
    pups: Scales = field(default_factory=Scales)
    scores: dict[int, Scores] = field(default_factory=dict)
    clocks: Renewed = field(default_factory=lambda: Renewed(ID))
    tested: Tested = field(init=False)

    def __post_init__(self) -> None:
        """The reflexes share the clocks of the rule."""
        self.tested = Tested(ID, self.yardstick, self.clocks)

    def take(self, entry: Entry) -> None:
        """Let one entry score a pup, test it, or end what stands."""
        self.pups.take(entry)
        match entry.what:
            case Birth():
                pass
            case Death() | Milestone():
                for scale in self.pups.pups.values():
                    if scale.gone is entry:
                        self._end(entry, scale)
            case what:
                meant = self.pups.pups.get(getattr(what, "pup", None) or 0)
                if meant is not None and meant.gone is None:
                    self._heed(entry, meant)

    def _heed(self, entry: Entry, scale: Scale) -> None:
        """Take in one entry about a pup that is here."""
        match entry.what:
            case Score() as score:
                self._score(entry, scale, score)
            case PupState(signs=signs):
                if "well" in signs:
                    self._end(entry, scale)
            case _:
                self.tested.take(entry, scale)

    def _score(self, entry: Entry, scale: Scale, score: Score) -> None:
        points, subject = total(score), pup_subject(scale.pup)
        if points is None:
            return
        scores = self.scores.setdefault(scale.pup, Scores(ID, self.yardstick, subject))
        scores.take(entry, scale, points)
        self.clocks.cut(entry, _AGAIN, _AT_AN_HOUR, subject=subject)
        if not scores.normal:
            self._remind(entry, scale)

    def _remind(self, entry: Entry, scale: Scale) -> None:
        """Ask for another score soon, and at an hour of age; never for both at once."""
        born, subject = scale.birth.at, pup_subject(scale.pup)
        end = entry.at + span(self.yardstick, ID, "stands-for")
        hour = born + span(self.yardstick, ID, "late-from")
        if entry.at < hour:
            self.clocks.plan(entry, _AT_AN_HOUR, since=born, start=hour, end=end, subject=subject)
            end = min(end, hour)
        self.clocks.plan(entry, _AGAIN, since=entry.at, end=end, subject=subject)

    def _end(self, entry: Entry, scale: Scale) -> None:
        self.clocks.cut(entry, subject=pup_subject(scale.pup))
        self.tested.forget(scale.pup)
        if scale.pup in self.scores:
            self.scores[scale.pup].close(entry)

    def finish(self) -> Iterator[Spell]:
        """All spells noted."""
        for scores in self.scores.values():
            yield from scores.finish()
        yield from self.clocks.finish()


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """Low scores and absent reflexes of every pup, and the reminders to score again."""
    newborns = _Newborns(yardstick)
    for entry in story.of(Birth, Score, PupState, Death, Milestone, *reflexes.KINDS):
        newborns.take(entry)
    return newborns.finish()


_HELP = "Clear its mouth and nose, rub it with a dry towel, and keep it warm. No swinging."

RULE = Rule(
    id=ID,
    group="each pup",
    title="Newborn pup scores low",
    watch=watch,
    says={
        "": "Low viability score of {subject}: {detail}.",
        "late": "Still low an hour after birth, the viability score of {subject}: {detail}.",
        "fall": "Fallen: the viability score of {subject}, {detail}.",
        "reflex": "No {detail} reflex in {subject}, found {ago}.",
        "again": "Score again, the last score was low or had fallen: {subject}.",
        "hour": "Score once more, an hour after birth: {subject}.",
    },
    do={
        Level.PROMPT: ("Write the score down.",),
        Level.WATCH: (_HELP, "Score it again in 15 minutes and write that down."),
        Level.CALL: (
            "Ring the vet now. Say the score or what reflex is missing, and the age of the pup.",
            _HELP,
            "Do not put milk into a pup that does not suck.",
        ),
    },
    page=__doc__,
    urgency="minutes",
    on_board=False,
)
