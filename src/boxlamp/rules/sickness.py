"""Signs of illness that stand in each pup, each for a while, until something ends it."""

from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field
from datetime import timedelta
from typing import get_args

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import (
    Birth,
    Death,
    Feed,
    Milestone,
    PupState,
    Step,
    Temperature,
    VetContact,
)
from boxlamp.model.levels import pup_subject
from boxlamp.model.seen import PupSign
from boxlamp.model.story import Story
from boxlamp.rules import not_breathing
from boxlamp.rules.renewed import Renewed
from boxlamp.rules.rule import spells_of
from boxlamp.rules.scale import Scale, Scales
from boxlamp.rules.spell import Spell, Yardstick, span

KINDS = (Birth, Death, Feed, Milestone, PupState, Step, Temperature, VetContact)
LASTING = frozenset({"cleft-palate", "no-anus", "open-fontanelle", "splayed-legs"})
"""How a pup is made, and no illness: it spreads to nobody, and ends when the vet knows of it."""

_OF_BREATH = frozenset({"limp", "gasping", "blue"})
_OF_NEWBORNS = frozenset({"crying", "cold", "not-suckling"})
"""A newborn pup cries because it breathes, cools down at first, and has yet to find the teat."""
_OTHERS = frozenset({"well", "not-breathing"})
_LOOSE, AGAIN = "diarrhoea", "diarrhoea-again"

_SHOWS: Mapping[str, AbstractSet[str]] = {
    "diarrhoea": frozenset({"no-stool"}),
}
"""Signs that show that another one is over."""
_STEPS: Mapping[str, AbstractSet[str]] = {
    "breathing": _OF_BREATH,
    "milk": frozenset({"crying", "not-suckling"}),
    "tube": frozenset({"crying"}),
}
_WELL = frozenset({*get_args(PupSign), AGAIN}) - LASTING
"""What a pup that is well no longer shows. How it was made stays as it is."""
_FELT, _PALATE = frozenset({"cold"}), frozenset({"cleft-palate"})
_REACHED: Mapping[str, AbstractSet[str]] = {
    "walking": frozenset({"splayed-legs"}),
    "toilet": frozenset({"no-stool"}),
}


@dataclass(eq=False, repr=False)
class Sickness:
    """The signs of all pups of a story. A sign written down again goes on from its first time."""

    yardstick: Yardstick
    rule: str
    breathless: dict[str, list[Spell]]
    """What belongs to the rule for pups that do not breathe, by subject."""
    at_least: timedelta = timedelta(0)
    """How long a sign stands without another word, however soon it stands no longer by itself."""
    pups: Scales = field(default_factory=Scales)
    clocks: Renewed = field(init=False)

    def __post_init__(self) -> None:
        """The clocks carry the rule's name."""
        self.clocks = Renewed(self.rule)

    def take(self, entry: Entry) -> None:
        """Let one entry end signs, then show those it names."""
        self.pups.take(entry)
        for scale in self._meant(entry):
            self._end(entry, scale, ended_by(entry))
            if scale.gone is None:
                for sign in shown_by(entry):
                    self._show(entry, scale, sign)

    def _meant(self, entry: Entry) -> list[Scale]:
        """The pups an entry is about: one of them, or all that are here or just went."""
        named = getattr(entry.what, "pup", None)
        if named is not None:
            return [self.pups.pups[named]] if named in self.pups.pups else []
        if isinstance(entry.what, VetContact | Milestone):
            every = self.pups.pups.values()
            return [one for one in every if one.gone is None or one.gone is entry]
        return []

    def _end(self, entry: Entry, scale: Scale, signs: AbstractSet[str] | None) -> None:
        subject = pup_subject(scale.pup)
        if signs is None:
            self.clocks.cut(entry, subject=subject)
        elif signs:
            self.clocks.cut(entry, *signs, subject=subject)

    def _show(self, entry: Entry, scale: Scale, sign: str) -> None:
        if self._belongs_elsewhere(entry, scale, sign):
            return
        subject, lasts = pup_subject(scale.pup), self.lasts(sign)
        last = self.clocks.standing(entry.at, sign, subject)
        # How a pup is made it has been since its birth, and its age says how much that matters.
        since = scale.birth.at if sign in LASTING else entry.at
        self.clocks.renew(entry, sign, lasts=lasts, since=since, subject=subject)
        if sign == _LOOSE and last is not None and last.start < entry.at:
            soon = entry.at - last.start <= span(self.yardstick, self.rule, "again-within")
            if soon or self.clocks.standing(entry.at, AGAIN, subject):
                self.clocks.renew(entry, AGAIN, lasts=lasts, subject=subject, also=last.opened)

    def _belongs_elsewhere(self, entry: Entry, scale: Scale, sign: str) -> bool:
        """Whether a newborn pup's first hour explains it, or another alert already says it."""
        born = scale.birth.at
        if not_breathing.is_newborn(entry.at, born, self.yardstick):
            return sign in _OF_BREATH | _OF_NEWBORNS
        return sign in _OF_BREATH and any(
            not_breathing.is_newborn(spell.since, born, self.yardstick)
            and (spell.end is None or entry.at < spell.end)
            for spell in self.breathless.get(pup_subject(scale.pup), ())
        )

    def lasts(self, sign: str) -> timedelta:
        """After how long without a word a sign is no longer taken to stand."""
        own = f"{sign}-stands-for"
        name = own if self.yardstick.has(self.rule, own) else "stands-for"
        return max(span(self.yardstick, self.rule, name), self.at_least)


def shown_by(entry: Entry) -> tuple[str, ...]:
    """The signs that an entry shows."""
    match entry.what:
        case PupState(signs=signs):
            return tuple(dict.fromkeys(sign for sign in signs if sign not in _OTHERS))
        case Step(step="palate", finding="cleft"):
            return ("cleft-palate",)
        case _:
            return ()


def ended_by(entry: Entry) -> AbstractSet[str] | None:
    """The signs that an entry ends; None for all of them."""
    over: AbstractSet[str] | None = frozenset()
    match entry.what:
        case Death() | Milestone(milestone="left-home"):
            over = None
        case PupState(signs=signs):
            shown = frozenset(over for sign in signs for over in _SHOWS.get(sign, ()))
            over = _WELL if "well" in signs else shown
        case Step(step="palate", finding=finding):
            over = _PALATE if finding == "ok" else over
        case Step(step=step):
            over = _STEPS.get(step, frozenset())
        case Feed(how=how):
            over = _STEPS["tube" if how == "tube" else "milk"]
        case Temperature():
            over = _FELT  # the thermometer knows better than the hand
        case Milestone(milestone=name):
            over = _REACHED.get(name, frozenset())
        case VetContact(contact="advised" | "arrived" | "seen"):
            over = LASTING
        case _:
            pass
    return over


def signs_of(
    story: Story, yardstick: Yardstick, rule: str, at_least: timedelta = timedelta(0)
) -> list[Spell]:
    """Every sign of every pup as it stood, one clock for each sign."""
    breathless: dict[str, list[Spell]] = {}
    for spell in spells_of(not_breathing.watch, story, yardstick):
        breathless.setdefault(spell.subject, []).append(spell)
    sickness = Sickness(yardstick, rule, breathless, at_least)
    for entry in story.of(*KINDS):
        sickness.take(entry)
    return list(sickness.clocks.finish())
