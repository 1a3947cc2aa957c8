"""A pup that comes back: what the pages say of it, read a second time and by hand.

The engine is given the lines as they were typed. The judge is given a night in which nobody was
written down as dead who breathes later: born limp, or not breathing. Both must say the same.
"""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from boxlamp.engine import assess
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Death, Feed, Finished, PupState, Step, VetContact, What
from boxlamp.model.order import canonical
from boxlamp.model.story import Story
from judge.counts.compare import compared
from judge.counts.judged_counts import JUDGES
from judge.engine_says import engine_says
from judge.nights import GAPS
from judge.test_nights import NEVER_RELAXED, WATCHED
from judge.verdicts import judge
from support.effort import NIGHTLY, effort
from support.made import told
from support.nights import DEFAULT

pytest.importorskip("rtamt")

COUNTED = [one for one in JUDGES if one.rule in {"litter-losses", "pup-sign", "vet-check-due"}]
OF_A_PUP: tuple[What, ...] = (
    Death(pup=1), Death(pup=1), Step(step="breathing", pup=1), Step(step="breathing", pup=1),
    Step(step="milk", pup=1), PupState(pup=1, signs=("limp",)), Feed(pup=1, how="bottle"),
)  # fmt: skip
OTHERS: tuple[What, ...] = (
    Birth(pup=1, state="dead"), Birth(pup=1, state="dead"), Birth(pup=1), Birth(pup=1, in_sac=True),
    Finished(), VetContact(contact="seen"),
)  # fmt: skip


@st.composite
def _nights(draw: st.DrawFn) -> tuple[Entry, ...]:
    """Two pups, one of them born dead, and then anything, at gaps that are limits."""
    lines: list[tuple[float, What]] = [(0, Birth(pup=1, state="dead")), (5, Birth(pup=2))]
    seconds, pups = 300, 2
    for _ in range(draw(st.integers(1, 9))):
        seconds += draw(st.sampled_from(GAPS))
        what = draw(st.sampled_from(OF_A_PUP + OTHERS))
        if isinstance(what, Birth):
            pups += 1
            what = what.model_copy(update={"pup": pups})
        elif what in OF_A_PUP:
            what = what.model_copy(update={"pup": draw(st.integers(1, pups))})
        lines.append((seconds / 60, what))
    return told(*lines)


def as_the_pages_say(night: tuple[Entry, ...]) -> tuple[Entry, ...]:
    """Each death that a breath of the same pup comes after, told as what was seen."""
    lines = sorted(night, key=canonical)
    return tuple(
        one.model_copy(update={"what": _seen(one.what, [later.what for later in lines[place:]])})
        for place, one in enumerate(lines)
    )


def _seen(what: What, following: list[What]) -> What:
    if isinstance(what, Death) and Step(step="breathing", pup=what.pup) in following:
        return PupState(pup=what.pup, signs=("not-breathing",))
    if isinstance(what, Birth) and Step(step="breathing", pup=what.pup) in following:
        return what.model_copy(update={"state": "limp"}) if what.state == "dead" else what
    return what


@settings(max_examples=effort(40, 4000), deadline=None, derandomize=not NIGHTLY)
@given(_nights())
def test_who_comes_back_was_never_dead(night: tuple[Entry, ...]) -> None:
    """Its clocks run as for a pup that was limp, and no loss is told."""
    rewritten = as_the_pages_say(night)
    assume([one.what for one in rewritten] != [one.what for one in sorted(night, key=canonical)])
    engine = engine_says(assess(Story(night), DEFAULT, WATCHED))
    assert engine == judge(Story(rewritten), DEFAULT, NEVER_RELAXED)


@settings(max_examples=effort(15, 1000), deadline=None, derandomize=not NIGHTLY)
@given(_nights())
def test_who_comes_back_is_counted_among_the_living(night: tuple[Entry, ...]) -> None:
    """The slow evaluator counts losses, and those that needed help, in the rewritten night."""
    typed = compared(Story(night), COUNTED)
    rewritten = compared(Story(as_the_pages_say(night)), COUNTED)
    assert [one.engine for one in typed] == [one.judge for one in rewritten]
