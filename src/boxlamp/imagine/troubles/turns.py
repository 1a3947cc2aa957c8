"""Turns a course can take, for the troubles to put together: held up, stopped, ended."""

from collections.abc import Iterable
from decimal import Decimal
from typing import NamedTuple

from boxlamp.imagine.course import NEVER, Course, Effort, Event, Pup
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.ours import About, Share, Span
from boxlamp.model.happenings import (
    Birth,
    Caesarean,
    Contraction,
    Death,
    Finished,
    Note,
    Step,
    Treatment,
    VetContact,
    What,
)
from boxlamp.model.seen import BirthState

_SPELL = Span(8, 25, "min", "a spell of weak pushes")
_RUNG = Span(1, 5, "min", "the vet rung after help is forced")
_LEFT = Span(4, 12, "min", "left after that")
_DRIVE = Span(12, 45, "min", "the drive")
_OPENED = Span(25, 60, "min", "surgery after arriving")
_LIFTED = Span(2, 5, "min", "its first pup after that")
_LIMP = Share(0.3, "live pups that come limp in surgery")
_NEXT_LIFTED = Span(1, 2.5, "min", "from pup to pup in surgery")
_CLOSED = Span(20, 45, "min", "surgery is over after the last pup")
_MILK = Span(10, 60, "min", "first milk after surgery")
_GIVEN = Span(5, 20, "min", "medicine given after arriving")
_WORKS = Span(15, 40, "min", "the next pup after medicine, or after a pup")
_PUSHES = Span(4, 9, "min", "then strong pushes before a pup")
_MILK_THERE = Span(12, 30, "min", "then first milk after its birth")
_FINISHED = Span(10, 20, "min", "then finished after the time for one pup more")
_BREATH = Span(10, 30, "s", "first breath at the vet's")
_LIMP_BREATH = About(50, 0.5, "s", "first breath at the vet's, limp")
_SEEN = Span(15, 45, "min", "what the vet found, after arriving")


def held_up(course: Course, start: float, by: float) -> Course:
    """Every push that ends and every pup that comes from ``start`` on does so later."""
    first = course.pups[0].born >= start
    return course._replace(
        efforts=tuple(
            e._replace(begin=e.begin + by, end=e.end + by) if e.end >= start else e
            for e in course.efforts
        ),
        pups=tuple(
            p._replace(born=p.born + by) if p.born >= start else p for p in course.pups
        ),
        over=course.over + by,
        sac=course.sac + by if first else course.sac,
    )  # fmt: skip


def late_and_limp(course: Course, place: int, by: float, breathes: float) -> Course:
    """The pup in this place is held up, and comes limp if it lives; the rest come later too."""
    late = held_up(course, course.pups[place].born, by)
    pup = late.pups[place]
    return (
        with_pup(late, place, pup._replace(state="limp", breathes=breathes)) if pup.alive else late
    )


def breathes_or_dies(course: Course, place: int, pup: Pup, ended: float, why: str) -> Course:
    """A pup in trouble from its birth on: it has breathed when that ends, or is dead."""
    course = with_pup(course, place, pup)._replace(troubled=pup.born, ended=ended)
    if pup.breathes < NEVER:
        return course
    return with_events(course, [Event(ended, Death(pup=place + 1, why=why))])


def stopped(course: Course, at: float) -> Course:
    """The course with nothing more coming by itself from ``at`` on."""
    first = not course.pups or course.pups[0].born >= at
    return course._replace(
        efforts=tuple(e._replace(end=min(e.end, at)) for e in course.efforts if e.begin < at),
        pups=tuple(pup for pup in course.pups if pup.born < at),
        over=NEVER,
        sac=NEVER if first else course.sac,
        waters=NEVER if course.waters >= at else course.waters,
        inside=tuple(pup for pup in course.pups if pup.born >= at),
    )


def pushing(course: Course, *efforts: Effort) -> Course:
    """The same course with more pushing."""
    every = sorted((*course.efforts, *efforts), key=lambda effort: effort.begin)
    return course._replace(efforts=tuple(every))


def off_and_on(dice: Dice, begin: float, end: float, pause: Span) -> list[Effort]:
    """Weak pushing that comes and goes."""
    efforts, at = [], begin
    while at < end:
        stop = min(end, at + dice.drawn(_SPELL))
        efforts.append(Effort(at, stop, strong=False))
        at = stop + dice.drawn(pause)
    return efforts


def with_events(course: Course, events: Iterable[Event]) -> Course:
    """The same course with more that happens in front of the keeper."""
    return course._replace(events=(*course.events, *events))


def rung(at: float, words: str, answer: str = "") -> list[Event]:
    """The vet is rung: the answer is the vet's, and a line of its own keeps what was told."""
    return [
        Event(at, VetContact(contact="called", said=answer)),
        Event(at, Note(words=f"told the vet: {words}")),
    ]


def drive(dice: Dice, at: float, words: str) -> tuple[list[Event], float]:
    """The vet rung and the drive there: what happens, and when she is seen."""
    called = at + dice.drawn(_RUNG)
    left = called + dice.drawn(_LEFT)
    arrived = left + dice.drawn(_DRIVE)
    return [
        *rung(called, words, "come in now"),
        Event(left, VetContact(contact="left-for")),
        Event(arrived, VetContact(contact="arrived")),
    ], arrived


class Help(NamedTuple):
    """What the vet is told on the telephone, and what the wait has cost."""

    words: str
    lost: float
    """The share of the pups still inside that are dead."""
    first_lost: bool = False
    """The pup in the passage is dead."""


def surgery(course: Course, at: float, dice: Dice, help_: Help) -> Course:
    """Help is forced at ``at``: the pups still inside come by caesarean, some of them dead."""
    events, arrived = drive(dice, at, help_.words)
    cut = arrived + dice.drawn(_OPENED)
    events.append(Event(cut, Caesarean()))
    born, number, living = cut + dice.drawn(_LIFTED), len(course.pups), []
    for place, pup in enumerate(course.inside):
        dead = (help_.first_lost and place == 0) or not pup.alive or dice.chance(help_.lost)
        state: BirthState = "dead" if dead else "limp" if dice.chance(_LIMP.of) else "alive"
        number += 1
        events += _born_there(number, pup, born, state, dice)
        if not dead:
            living.append(number)
        born += dice.drawn(_NEXT_LIFTED)
    finished = born + dice.drawn(_CLOSED)
    events.append(Event(finished, Finished(by="vet")))
    events += [Event(finished + dice.drawn(_MILK), Step(step="milk", pup=one)) for one in living]
    return with_events(course, events)._replace(silent=at, ended=at)


def helped_along(course: Course, at: float, dice: Dice, help_: Help) -> Course:
    """Help is forced at ``at``: with the vet's medicine the rest come by themselves."""
    events, arrived = drive(dice, at, help_.words)
    given = arrived + dice.drawn(_GIVEN)
    treatment = Treatment(what="something for the contractions", by="the vet")
    events.append(Event(given, treatment))
    born, number = given + dice.drawn(_WORKS), len(course.pups)
    for pup in course.inside:
        number += 1
        dead = not pup.alive or dice.chance(help_.lost)
        events.append(Event(born - dice.drawn(_PUSHES), Contraction(strength="strong")))
        events += _born_there(number, pup, born, "dead" if dead else "alive", dice)
        if not dead:
            events.append(Event(born + dice.drawn(_MILK_THERE), Step(step="milk", pup=number)))
        born += dice.drawn(_WORKS)
    events.append(Event(born + dice.drawn(_FINISHED), Finished(by="vet")))
    return with_events(course, events)._replace(silent=at, ended=at)


def _born_there(number: int, pup: Pup, born: float, state: BirthState, dice: Dice) -> list[Event]:
    """A birth at the vet's, and its first breath."""
    birth = Birth(
        pup=number,
        sex=pup.sex,
        weight=Decimal(pup.grams),
        state=None if state == "alive" else state,
    )
    events = [Event(born, birth, to_the_second=True)]
    if state != "dead":
        breath = dice.drawn(_BREATH) if state == "alive" else dice.drawn(_LIMP_BREATH)
        step = Step(step="breathing", pup=number)
        events.append(Event(born + breath / 60, step, to_the_second=True))
    return events


def told(start: float, *happens: tuple[float, What, str]) -> list[Event]:
    """Happenings by their minutes after ``start``."""
    return [Event(start + after, what, note) for after, what, note in happens]


def with_pup(course: Course, place: int, pup: Pup) -> Course:
    """The same course with another pup in this place."""
    pups = (*course.pups[:place], pup, *course.pups[place + 1 :])
    return course._replace(pups=pups)


def to_the_vet(course: Course, at: float, dice: Dice, words: str, found: str) -> Course:
    """Help is forced at ``at``: the vet is rung, the drive, and what the vet found."""
    events, arrived = drive(dice, at, words)
    seen = Event(arrived + dice.drawn(_SEEN), VetContact(contact="seen", said=found))
    return with_events(course, [*events, seen])._replace(silent=at, ended=at)
