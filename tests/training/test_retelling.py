from datetime import timedelta
from itertools import pairwise

from hypothesis import given

from boxlamp.engine import Transition
from boxlamp.language import Expected, read_night
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Birth, Contraction, Part, Strike
from boxlamp.model.levels import Level
from boxlamp.training.retelling import Moment, retell, unmet
from support.made import STREAMS, at, entry, told
from support.nights import DEFAULT, DEMO


def changes(steps: list[Transition]) -> list[tuple[float, str, str, str]]:
    """The changes of the board as (minute after two, change, level, rule)."""
    return [
        ((step.at - at(0)).total_seconds() / 60, step.change, step.level.word, step.rule.id)
        for step in steps
    ]


def pushing(entries: tuple[Entry, ...], until: float) -> list[tuple[float, str, str, str]]:
    """What is told of the pushing rule."""
    _, steps = retell(entries, DEFAULT, at(until))
    return [line for line in changes(steps) if line[3] == "contraction-no-pup"]


@given(STREAMS)
def test_the_moments_are_in_order_and_complete(entries: tuple[Entry, ...]) -> None:
    """Every entry and every change once, by time; at one instant what was typed comes first."""
    end = entries[-1].recorded + timedelta(hours=1)
    moments, steps = retell(entries, DEFAULT, end)

    assert [m.at for m in moments] == sorted(m.at for m in moments)
    assert [m.entry for m in moments if m.entry is not None] == sorted(
        entries, key=lambda one: one.recorded
    )
    assert [m.step for m in moments if m.step is not None] == steps
    assert all((m.entry is None) != (m.step is None) for m in moments)
    for before, after in pairwise(moments):
        if before.at == after.at:
            assert not (before.step is not None and after.entry is not None)


def test_nothing_after_the_end_is_told() -> None:
    """Up to and including that second."""
    entries = told((0, Contraction()), (21, Birth(pup=1)))

    watch = (15, "raised", "watch", "contraction-no-pup")
    assert pushing(entries, 20) == [watch, (20, "escalated", "call", "contraction-no-pup")]
    assert pushing(entries, 20 - 1 / 60) == [watch]
    moments, _ = retell(entries, DEFAULT, at(20.5))
    assert [moment.entry for moment in moments if moment.entry is not None] == [entries[0]]


def test_a_line_typed_late_counts_from_its_typing() -> None:
    """A push at two, typed at half past: the alert comes at half past, at the level it then has."""
    entries = (entry(1, 0, Contraction(), typed=30),)

    assert pushing(entries, 60) == [(30, "raised", "go", "contraction-no-pup")]
    moments, _ = retell(entries, DEFAULT, at(60))
    assert moments[0] == Moment(at(30), entry=entries[0])


def test_a_pup_typed_late_clears_when_it_was_typed() -> None:
    """What the board said meanwhile stays told, for that is what the person saw."""
    entries = (entry(1, 0, Contraction()), entry(2, 10, Birth(pup=1), typed=25))

    assert pushing(entries, 60) == [
        (15, "raised", "watch", "contraction-no-pup"),
        (20, "escalated", "call", "contraction-no-pup"),
        (25, "cleared", "call", "contraction-no-pup"),
    ]


def test_a_correction_changes_nothing_before_it() -> None:
    """A struck line stood on the board until it was struck; an amended time counts from then."""
    strike = (entry(1, 0, Part(part="head")), entry(2, 2, Strike(target=1)))
    _, steps = retell(strike, DEFAULT, at(30))
    part = [line for line in changes(steps) if line[3] == "part-showing"]
    assert part == [(0, "raised", "call", "part-showing"), (2, "cleared", "call", "part-showing")]

    amend = (
        entry(1, 0, Contraction()),
        entry(2, -10, Amend(target=1, retimed=True), typed=5),
    )
    assert pushing(amend, 12) == [
        (5, "raised", "watch", "contraction-no-pup"),
        (10, "escalated", "call", "contraction-no-pup"),
    ]


def expected_of(text: str) -> tuple[tuple[Expected, ...], list[Transition]]:
    night = read_night(f"dam: Ash\ndate: 2026-03-02\n\n{text}")
    end = max(one.recorded for one in night.entries) + timedelta(hours=1)
    return night.expected, retell(night.entries, DEFAULT, end)[1]


def test_promises_that_are_kept() -> None:
    """Raised, escalated and cleared at their second; `none` when nothing of the kind came."""
    expected, steps = expected_of(
        "02:00 contraction strong\n#= 02:15 watch contraction-no-pup\n"
        "#= 02:20 call contraction-no-pup\n02:21 pup limp\n#= 02:21 watch not-breathing pup 1\n"
        "#= 02:21 cleared contraction-no-pup\n#= none go contraction-no-pup\n"
    )

    assert len(expected) == 5
    assert list(unmet(expected, steps)) == []


def test_a_calm_that_was_promised() -> None:
    """`none` speaks of its level and above, of its rule if it names one, and says what came."""
    lines = "02:00 contraction strong\n02:21 pup\n#= none {}\n"

    def said(words: str) -> list[str]:
        return list(unmet(*expected_of(lines.format(words))))

    assert said("go") == said("watch sac-no-pup") == []
    assert said("call") == ["Seen and not expected: 02:20:00 UTC call contraction-no-pup"]
    assert len(said("watch contraction-no-pup")) == 2


def test_promises_that_are_broken() -> None:
    """A second off, another level, another pup, another rule, a clearing: one sentence each."""
    expected, steps = expected_of(
        "02:00 contraction strong\n#= 02:14:59 watch contraction-no-pup\n"
        "#= 02:20 go contraction-no-pup\n02:21 pup limp\n#= 02:21 watch not-breathing pup 2\n"
        "#= 02:20 call sac-no-pup\n#= 02:20 cleared contraction-no-pup\n"
    )

    broken = list(unmet(expected, steps))
    assert len(broken) == len(expected) == 5
    assert all(line.startswith("Expected and not seen: ") for line in broken)
    assert sum("contraction-no-pup" in line for line in broken) == 3


def test_the_demo_nights_keep_theirs() -> None:
    """Told as it was known then, every invented night does what its file says, and no more."""
    for path in DEMO.glob("*.night"):
        night = read_night(path.read_text(encoding="utf-8"), source=path.name)
        stated = [line.at for line in night.expected if line.at is not None]
        end = max([entry.recorded for entry in night.entries] + stated)
        _, steps = retell(night.entries, DEFAULT, end)
        assert list(unmet(night.expected, steps)) == [], path.name
        raised = [step for step in steps if step.change in {"raised", "escalated"}]
        for step in (step for step in raised if step.level >= Level.WATCH):
            said = (step.at, step.level.word, step.rule.id)
            assert said in {(line.at, line.level, line.rule) for line in night.expected}, path.name
