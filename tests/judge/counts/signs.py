"""Signs of illness in pups: what stands for each pup now, and for the litter."""

from datetime import datetime, timedelta
from typing import NamedTuple

from boxlamp.model.happenings import (
    Death,
    Feed,
    Milestone,
    PupState,
    Step,
    Temperature,
    VetContact,
)
from boxlamp.model.levels import LITTER, Level, pup_subject
from judge.counts.numbers import plain_limit, span
from judge.counts.told import Levels, Then, births, every, here, left, of_pup, once
from support.nights import DEFAULT

RULE = "pup-sign"
BORN_WITH = {"cleft-palate", "no-anus", "open-fontanelle", "splayed-legs"}
"""What a pup is born with: no illness, and ended by a vet's advice and not by ``well``."""
OF_THE_FIRST_HOUR = {"limp", "gasping", "blue", "crying", "cold", "not-suckling"}
"""In the first hour these belong to another rule, or are ordinary."""
NO_BREATH = {"limp", "gasping", "blue"}
ADVISED = {"advised", "arrived", "seen"}


class Run(NamedTuple):
    """A sign that stands: when it was written down, from the first line that still counts on."""

    pup: int
    sign: str
    at: tuple[datetime, ...]

    @property
    def counts_from(self) -> tuple[datetime, ...]:
        """From when on each line counts beside other signs: crying once it is watched itself."""
        if self.sign != "crying":
            return self.at
        after = self.at[0] + span(RULE, "crying-counts-after")
        return tuple(max(at, after) for at in self.at)


def signs(then: Then) -> Levels:
    """Several signs in one pup are one alert; signs in two pups are one of the litter."""
    found: Levels = {}
    for pup in here(then):
        level = _worst(then, _standing(then, pup))
        if level is not None:
            found[pup_subject(pup)] = level
    return found | ({LITTER: Level.CALL} if _in_two_pups(then) else {})


def _standing(then: Then, pup: int, at_least: timedelta = timedelta(0)) -> list[Run]:
    named = [name for rule, name in DEFAULT.spans if rule == RULE]
    runs = [Run(pup, sign, _lines(then, pup, sign, at_least)) for sign in named]
    return [run for run in runs if run.at]


def _lines(then: Then, pup: int, sign: str, at_least: timedelta) -> tuple[datetime, ...]:
    """When a sign that stands now was written down since it last was over."""
    ends = max(_ends(then, pup, sign), default=-1)
    shown = [
        (place, at)
        for place, at in _shown(then, pup, sign)
        if place > ends and not left(then.before(place), pup)
    ]
    run: list[datetime] = []
    later = then.now
    for _place, at in reversed(shown):
        if later >= at + max(_stands_for(sign), at_least):
            break
        run.append(at)
        later = at
    return tuple(reversed(run))


def _stands_for(sign: str) -> timedelta:
    own = f"{sign}-stands-for"
    return span(RULE, own if (RULE, own) in DEFAULT.numbers else "stands-for")


@once
def _shown(then: Then, pup: int, sign: str) -> list[tuple[int, datetime]]:
    """Every line that shows it, as place and time; in the first hour not every sign is one."""
    lines = [(one.place, one.at) for one in of_pup(then, pup, PupState) if sign in one.what.signs]
    if sign == "cleft-palate":
        lines += [
            (one.place, one.at)
            for one in of_pup(then, pup, Step)
            if (one.what.step, one.what.finding) == ("palate", "cleft")
        ]
    hour = births(then)[pup].at + span("not-breathing", "newborn-for")
    return sorted(
        (place, at)
        for place, at in lines
        if sign not in OF_THE_FIRST_HOUR
        or (at >= hour and not (sign in NO_BREATH and _still_newborn(then, pup, place)))
    )


@once
def _still_newborn(then: Then, pup: int, place: int) -> bool:
    """Whether trouble of its first hour still goes on: then a line is the other rule's."""
    birth = births(then)[pup]
    hour = birth.at + span("not-breathing", "newborn-for")
    begun = [birth.place] if birth.what.state == "limp" else []
    # A line that stands before its birth tells of its trouble as well, for that rule.
    steps = [one for one in every(then, Step) if one.what.pup == pup]
    ended = [one.place for one in steps if one.what.step == "breathing"]
    for one in [one for one in every(then, PupState) if one.what.pup == pup]:
        said = set(one.what.signs)
        if said & {*NO_BREATH, "not-breathing"} and one.at < hour:
            begun.append(one.place)
        elif said & {"well", "crying"}:
            ended.append(one.place)
    last = max((one for one in begun if one < place), default=None)
    return last is not None and not any(last < one < place for one in ended)


@once
def _ends(then: Then, pup: int, sign: str) -> list[int]:
    """The places of all lines that end a sign."""
    found: list[int] = []
    for said in of_pup(then, pup, PupState):
        ended = {
            "well": sign not in BORN_WITH,
            "crying": sign in {"limp", "gasping"},
            "diarrhoea": sign == "no-stool",
        }
        found += [said.place for word in said.what.signs if ended.get(word)]
    for step in of_pup(then, pup, Step):
        if (
            (step.what.step == "breathing" and sign in {"limp", "gasping", "blue"})
            or (step.what.step == "milk" and sign in {"crying", "not-suckling"})
            or (sign == "cleft-palate" and (step.what.step, step.what.finding) == ("palate", "ok"))
        ):
            found.append(step.place)
    for feed in of_pup(then, pup, Feed):
        if sign == "crying" or (sign == "not-suckling" and feed.what.how != "tube"):
            found.append(feed.place)
    if sign == "cold":
        found += [one.place for one in of_pup(then, pup, Temperature)]
    if sign in BORN_WITH:
        found += [one.place for one in every(then, VetContact) if one.what.contact in ADVISED]
    reached = {"no-stool": "toilet", "splayed-legs": "walking"}.get(sign)
    born = births(then)[pup].place
    found += [
        one.place
        for one in every(then, Milestone)
        if one.what.milestone == reached and one.what.pup in {pup, None} and one.place > born
    ]
    return found


def _worst(then: Then, runs: list[Run]) -> Level | None:
    levels = [level for run in runs for level in _levels(then, run)]
    if _two_signs(then, runs):
        levels.append(Level.CALL)
    return max(levels, default=None)


def _levels(then: Then, run: Run) -> list[Level]:
    """The levels one sign has reached by itself."""
    found = []
    for level in DEFAULT.spans[RULE, run.sign]:
        # Splayed legs are a call from two weeks of age on.
        of_age = run.sign == "splayed-legs" and level is Level.CALL
        since = births(then)[run.pup].at if of_age else run.at[0]
        if then.now >= since + plain_limit(RULE, run.sign, level):
            found.append(level)
    again = span(RULE, "again-within")
    pairs = zip(run.at, run.at[1:], strict=False)
    if run.sign == "diarrhoea" and any(later - earlier <= again for earlier, later in pairs):
        found.append(Level.CALL)
    return found


def _two_signs(then: Then, runs: list[Run]) -> bool:
    """Two different signs in one pup, written down within six hours."""
    within = span(RULE, "two-signs-within")
    ill = [run for run in runs if run.sign not in BORN_WITH]
    return any(
        abs(one - other) <= within and max(one, other) <= then.now
        for place, run in enumerate(ill)
        for another in ill[:place]
        for one in run.counts_from
        for other in another.counts_from
    )


def _in_two_pups(then: Then) -> bool:
    """Signs in two pups within a day, one at least written down since a vet last advised.

    For this crying counts a day too, as the page says, though alone it stands for less.
    """
    within = span(RULE, "litter-within")
    advised = max(
        (one.at for one in every(then, VetContact) if one.what.contact in ADVISED), default=None
    )
    lines = [
        (run.pup, at)
        for pup in births(then)
        for run in _ill_or_died_of_it(then, pup, within)
        if run.sign not in BORN_WITH
        for line, at in zip(run.at, run.counts_from, strict=True)
        if at <= then.now < line + within
    ]
    return any(
        pup != other
        and abs(at - and_at) < within
        and (advised is None or max(at, and_at) > advised)
        for pup, at in lines
        for other, and_at in lines
    )


def _ill_or_died_of_it(then: Then, pup: int, at_least: timedelta) -> list[Run]:
    """The signs that stand for a pup; of one that has died, those that stood at its death."""
    death = next((one.place for one in of_pup(then, pup, Death)), None)
    if left(then, pup) or births(then)[pup].what.state == "dead":
        return []  # what is said of a pup that was born dead is no illness
    return _standing(then if death is None else then.before(death), pup, at_least)
