"""The pups: one account each, in order of birth."""

from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from typing import get_args

from boxlamp.growth.table import PupGrowth, weight_table
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Afterbirth, Birth, Death, Feed, Score, Step
from boxlamp.model.litter import Pup
from boxlamp.model.seen import MilestoneName
from boxlamp.model.story import Story
from boxlamp.paper.account.condition import condition_of, measured_of, standing_of
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.models import PupAccount, PupNote, Reaching, StepDone, Viability


def pups_of(matter: Matter) -> tuple[PupAccount, ...]:
    """Every pup whose birth stands, by time of birth and, at one time, by number."""
    growths = {one.number: one for one in weight_table(matter.verdict).pups}
    told: list[PupAccount] = []
    before: Pup | None = None
    for order, pup in enumerate(matter.verdict.litter.in_order, start=1):
        interval = None if before is None else pup.born - before.born
        told.append(_pup(order, pup, interval, growths[pup.number], matter))
        before = pup
    return tuple(told)


def _pup(
    order: int, pup: Pup, interval: timedelta | None, growth: PupGrowth, matter: Matter
) -> PupAccount:
    """What is known of one pup; ``interval`` is the time since the one before it."""
    verdict = matter.verdict
    entries = tuple(_about(verdict.story, pup))
    debt = verdict.litter.ledger.debts[pup.number]
    measured = measured_of(pup, verdict)
    return PupAccount(
        order=order,
        number=pup.number,
        born=pup.born,
        estimated=pup.birth.certainty != "seen",
        interval=interval,
        sex=pup.sex,
        birth_weight_g=growth.birth,
        weight_g=None if growth.latest is None else growth.latest.grams,
        weighed=None if growth.latest is None else growth.latest.at,
        presentation=pup.presentation,
        state_at_birth=pup.state,
        state=condition_of(pup, verdict),
        standing=tuple(standing_of(pup, verdict)),
        celsius=None if measured is None else measured[0],
        measured=None if measured is None else measured[1],
        notes=tuple(_notes(verdict.story, pup)),
        mark=pup.mark or None,
        chip=pup.milestones.get("chipped", (None, ""))[1] or None,
        by_caesarean=pup.by_caesarean,
        viability=_viability(entries),
        afterbirth=debt.answer,
        afterbirth_at=None if debt.settled is None else debt.settled.at,
        first_milk=next(_milk(entries), None),
        steps=tuple(_steps(entries)),
        milestones=tuple(_milestones(pup)),
        died=pup.died,
        died_of=next(_causes(entries), ""),
        left_home=pup.milestones.get("left-home", (None, ""))[0],
    )


def _about(story: Story, pup: Pup) -> Iterator[Entry]:
    """What was written down of one pup from its birth on, in order of time."""
    born = False
    for entry in story.of(Birth, Death, Feed, Score, Step):
        born = born or entry.id == pup.birth.id
        if born and getattr(entry.what, "pup", None) == pup.number:
            yield entry


def _notes(story: Story, pup: Pup) -> Iterator[PupNote]:
    """What was typed behind its lines: it may be what the vet has to know."""
    for entry in story.entries:
        what = entry.what
        whose = what.of if isinstance(what, Afterbirth) else getattr(what, "pup", None)
        if entry.note and whose == pup.number and entry.at >= pup.born:
            yield PupNote(entry=entry.id, at=entry.at, words=entry.note)


def _viability(entries: Sequence[Entry]) -> Viability | None:
    """The latest score of which any item was taken."""
    for entry in reversed(entries):
        if isinstance(entry.what, Score):
            taken = [item for item in entry.what.items if item is not None]
            if taken:
                return Viability(
                    total=sum(taken),
                    items_taken=len(taken),
                    at=entry.at,
                    items=entry.what.items,
                )
    return None


def _milk(entries: Sequence[Entry]) -> Iterator[datetime]:
    """When it drank from the dam: as first milk counts, so neither by bottle nor by tube."""
    for entry in entries:
        match entry.what:
            case Step(step="milk") | Feed(how="teat"):
                yield entry.at
            case _:
                pass


def _steps(entries: Sequence[Entry]) -> Iterator[StepDone]:
    for entry in entries:
        if isinstance(entry.what, Step):
            yield StepDone(step=entry.what.step, at=entry.at, finding=entry.what.finding)


def _milestones(pup: Pup) -> Iterator[Reaching]:
    """In the order of the model's list, which is about that of age."""
    for name in get_args(MilestoneName):
        if name in pup.milestones:
            at, number = pup.milestones[name]
            yield Reaching(milestone=name, at=at, number=number)


def _causes(entries: Sequence[Entry]) -> Iterator[str]:
    """Why it died, in the words of those who wrote it down."""
    return (one.what.why for one in entries if isinstance(one.what, Death) and one.what.why)
