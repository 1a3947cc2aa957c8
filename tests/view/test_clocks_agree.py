"""A running clock and the alert of its rule tell one story: the same level, the same moment."""

import re
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.engine import Verdict, assess
from boxlamp.imagine import SIZES, TROUBLES, imagine
from boxlamp.model.entry import Entry
from boxlamp.model.levels import DAM, LITTER, Level, pup_subject
from boxlamp.model.story import Story
from boxlamp.rules.registry import RULES
from boxlamp.view.clock_lines import ClockLine, clock_lines
from boxlamp.view.layout import FINE, clocks
from boxlamp.view.said import next_line
from boxlamp.view.text import clock_text
from support.boxes import demo_board
from support.nights import CASES, DEFAULT, DEMO, chapters
from support.short_nights import clock, night_of

FILES = sorted((*DEMO.glob("*.night"), *CASES.glob("*/*.night")))
COMING = re.compile(r"(?:(past) )?(\w+) (?:since|in [^(]+) ?\(?([^)]+)\)?")
CALLED: dict[str, set[str]] = {}
"""The rules whose clocks have a title."""
for rule in RULES:
    for title in (rule.title, rule.running):
        CALLED.setdefault(title, set()).add(rule.id)


def verdict_at(entries: tuple[Entry, ...], at: datetime) -> Verdict:
    """What stands at a moment, with nothing later known."""
    return assess(Story(entries).until(at), DEFAULT).verdict(at)


def subjects_of(line: ClockLine) -> set[str]:
    """Whom a row is about."""
    return {pup_subject(pup) for pup in line.pups} or {line.subject}


def agrees(line: ClockLine, verdict: Verdict) -> None:
    """The row stands at the level of its rule's alert, since that was raised or until it rises."""
    ids, subjects, now = CALLED[line.title], subjects_of(line), verdict.at
    alerts = [one for one in verdict.alerts if one.rule.id in ids and one.subject in subjects]
    worst = max((one.level for one in alerts), default=None)
    assert (line.level or None) == worst

    told = COMING.fullmatch(line.coming)
    assert told is not None
    past, word, time = told.groups()
    if word == "remind" or (past and word == "prompt"):
        assert worst is None
    elif past:
        raised = {clock_text(one.raised, now, UTC) for one in alerts if one.level == worst}
        assert (Level[word.upper()], worst is not None and time in raised) == (worst, True)
    else:
        ahead = {
            (one.level, clock_text(one.due, now, UTC)) for one in verdict.next
            if one.rule.id in ids and one.subject in subjects
        }  # fmt: skip
        assert (Level[word.upper()], time) in ahead
        assert worst is None or Level[word.upper()] > worst


def agree(entries: tuple[Entry, ...], moments: Iterable[datetime]) -> None:
    """So does every row of the board at every one of these moments."""
    for at in moments:
        verdict = verdict_at(entries, at)
        for line in clock_lines(verdict, UTC):
            agrees(line, verdict)


def around(entries: tuple[Entry, ...]) -> list[datetime]:
    """The moment of each entry, some time after the last, and the limits that then lie ahead."""
    last = entries[-1].at
    moments = {entry.at for entry in entries if entry.certainty != "day"}
    ahead = verdict_at(entries, last).next[:6]
    return sorted(moments | {one.due for one in ahead} | {last + timedelta(minutes=7)})


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_clock_and_alert_agree_in_every_case_and_demo_night(path: Path) -> None:
    """At every entry, at every limit after the last of them, and in between."""
    for case in chapters(path):
        entries = tuple(case.night.entries)
        agree(entries, around(entries))


@settings(max_examples=25, deadline=None)
@given(
    st.builds(
        imagine, st.integers(0, 2**40), size=st.sampled_from((None, *SIZES)),
        trouble=st.sampled_from(("none", *TROUBLES)),
    ).map(lambda night: tuple(night.entries)),
    st.lists(st.floats(0, 1.2), min_size=1, max_size=8),
)  # fmt: skip
def test_clock_and_alert_agree_in_any_imagined_night(
    entries: tuple[Entry, ...], shares: list[float]
) -> None:
    """At any moment of a normal or a troubled night, and after it."""
    first, last = entries[0].at, max(one.at for one in entries)
    agree(entries, (first + (last - first) * share for share in shares))


WHATEVER = (
    "state 1 limp", "state 1 blue", "state 1 gasping", "state 1 cold", "state 1 weak",
    "state 2 limp", "state 2 crying", "breathing 1", "state 1 well", "temp 39.6", "temp 40.4",
    "temp 41.2", "temp 38.5", "dam dull", "dam refused-food", "dam vomited", "dam trembling",
    "dam udder-hot", "dam udder-black", "caesarean", "finished", "contraction", "rest",
    "discharge red heavy", "discharge green foul", "pup 300g", "pup 180g limp", "afterbirth",
    "temp pup 1 33.5", "temp pup 1 36", "vet advised", "weigh 1 280g", "feed 1", "died 2",
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 50), st.sampled_from(WHATEVER)), max_size=14))
def test_clock_and_alert_agree_whatever_is_typed(lines: list[tuple[int, str]]) -> None:
    """Signs again and again, readings beside signs, a caesarean in the midst: at every line."""
    at, typed = clock(2), ["02:00 pup 300g limp", "02:00 pup 280g"]
    for gap, words in lines:
        at += timedelta(minutes=gap)
        typed.append(f"{at:%Y-%m-%d %H:%M} {words}")
    entries = night_of("\n".join(typed) + "\n")
    agree(entries, around(entries))


def row(lines: str, at: datetime, title: str, subject: str) -> ClockLine:
    """The one row with this title about this subject after these lines."""
    [found] = [
        line for line in clock_lines(verdict_at(night_of(lines), at), UTC)
        if line.title == title and subject in subjects_of(line)
    ]  # fmt: skip
    return found


@pytest.mark.parametrize("again", ["", "02:00:30 state 1 limp\n", "02:07 state 1 limp\n"])
def test_a_limp_pup_written_down_again_is_past_its_limit_since_then(again: str) -> None:
    """Another line about the same does not move the moment at which the limit was reached."""
    line = row(f"02:00 pup limp\n{again}", clock(2, 9), "Pup not breathing", "pup 1")

    assert (line.level, line.coming) == (Level.GO, "past go since 02:05")
    assert line.elapsed == "9 min"


CAESAREAN = "02:00 caesarean\n02:10 pup\n04:00 temp 41.2\n05:00 dam dull\n06:00 temp 41.3\n"


def test_a_fever_after_a_caesarean_stands_at_the_level_of_its_alert() -> None:
    """The readings have reached more than the clock of the sign: the row says so, since then."""
    line = row(CAESAREAN, clock(6, 30), "Dam's temperature high", DAM)

    assert (line.level, line.coming) == (Level.GO, "past go since 04:00")
    assert line.elapsed == "2h30"


def test_what_stands_already_is_not_told_as_coming() -> None:
    """A second clock of the rule that runs towards the same level is nothing to wait for."""
    verdict = verdict_at(night_of(CAESAREAN), clock(6, 30))

    assert "temperature" not in next_line(verdict, UTC)


def test_what_is_true_of_the_litter_is_not_said_of_a_pup() -> None:
    """Signs in two pups are a call for the litter; the row of a pup stands at its own level."""
    lines = "02:00 pup\n02:10 pup\n2026-03-03 08:00 state 1 weak\n08:00 state 2 diarrhoea\n"
    title, at = "Sign of illness in a pup", clock(8, 5, day=3)

    assert row(lines, at, title, LITTER).level is Level.CALL
    assert row(lines, at, title, LITTER).name[-2:] == ("pup,", LITTER)
    assert row(lines, at, title, "pup 1").level is Level.WATCH


def test_the_litters_own_title_needs_no_name() -> None:
    """A title that speaks of the litter or of its pups is not followed by ``litter``."""
    line = ClockLine("Litter gains too little", (), "3 min", None, 0.0, (), "", LITTER)

    assert " ".join(line.name) == "Litter gains too little"


TITLES = sorted({title for rule in RULES for title in (rule.title, rule.running) if title})


@pytest.mark.parametrize("width", [40, 69, 70, 80, 100, 120])
@pytest.mark.parametrize("title", TITLES)
def test_no_name_of_a_clock_is_cut(title: str, width: int) -> None:
    """Its words and every pup stand on the board, beside the longest that can come next."""
    pups = tuple(range(1, 13))
    told = "past watch since Sun 1 Mar 2025 23:50"
    line = ClockLine(title, pups, "12d04h", Level.GO, 0.4, ((1.0, Level.GO),), told,
                     f"pup {', '.join(map(str, pups))}")  # fmt: skip
    board = demo_board("pup-stuck", datetime(2026, 5, 17, 20, 44, tzinfo=UTC))

    shown = clocks(board._replace(clocks=(line,)), width, FINE)
    named = " ".join("".join(part for role, part in one if role == "go") for one in shown)
    bar = re.compile(f"[{FINE.full}{FINE.empty}{FINE.tick}]+")

    assert " ".join(bar.sub(" ", named).split()) == " ".join(line.name)
    assert all(sum(len(part) for _, part in one) <= width for one in shown)
