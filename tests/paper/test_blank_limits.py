"""The sheet of limits against the engine: what it says is raised, then, and not otherwise."""

import re
from datetime import datetime, timedelta
from decimal import Decimal
from typing import NamedTuple

import pytest

from boxlamp.engine import assess
from boxlamp.language import read_night
from boxlamp.model.entry import Entry
from boxlamp.model.levels import ALERTS, Level
from boxlamp.model.story import Story
from boxlamp.paper.blank_limits import limit_blocks
from boxlamp.paper.blank_rows import GROUPS, ROWS, LimitRow, numbers
from boxlamp.paper.document import Table
from boxlamp.protocol.book import Key
from boxlamp.rules.registry import BY_ID
from support.accounts import READER
from support.nights import DEFAULT

SECOND = timedelta(seconds=1)
BOOK = assess(Story(()), DEFAULT).book
PUP_AND_END = "01:00 pup\n01:30 finished\n"
NEWBORN = "02:00 pup\n"


class Proof(NamedTuple):
    """A night in which one clock of the sheet runs.

    The clock counts from ``since``; where that is earlier, it is first seen to run at ``seen``.
    """

    lines: str
    since: str
    subject: str = "dam"
    header: str = ""
    seen: str = ""


def pup(lines: str, since: str) -> Proof:
    return Proof(NEWBORN + lines, since, "pup 1")


PROOFS: dict[Key, list[Proof]] = {
    ("dam-collapse", "main"): [
        Proof(f"01:00 dam {sign}", "01:00")
        for sign in ("collapsed", "fits", "rigid", "cannot stand", "unresponsive", "pale", "blue")
    ],
    ("bleeding", "heavy"): [
        Proof("04:00 discharge red heavy", "04:00"), Proof("04:00 discharge red clots", "04:00"),
        Proof(PUP_AND_END + "09:00 discharge red heavy", "09:00"),
    ],
    ("foul-discharge", "ill"): [
        Proof("06:00 dam dull\n06:10 discharge brown foul", "06:10"),
        Proof("06:00 dam refused-food\n06:10 discharge yellow", "06:10"),
        Proof("06:00 temp 39.5\n06:10 discharge pus", "06:10"),
    ],
    ("udder", "dark"): [
        Proof("06:00 dam udder-purple", "06:00"), Proof("06:00 dam udder-black", "06:00"),
    ],
    ("foul-discharge", "main"): [
        Proof(f"06:00 discharge {seen}", "06:00") for seen in ("brown foul", "pus", "yellow")
    ],
    ("dam-vomiting", "main"): [
        Proof("01:00 dam vomited\n03:00 dam vomited\n07:00 dam vomited", "07:00"),
    ],
    ("dam-vomiting", "dull"): [Proof("01:00 dam vomited dull", "01:00")],
    ("bleeding", "some"): [Proof("04:00 discharge red some", "04:00")],
    ("afterbirths-behind", "main"): [Proof("02:00 pup\n02:20 pup\n02:40 pup", "02:40")],
    ("afterbirth-surplus", "main"): [
        Proof("02:00 pup\n02:10 afterbirth\n02:20 afterbirth", "02:20"),
    ],
    ("temperature-drop-no-labour", "main"): [
        Proof("08:00 temp 37.2\n10:00 temp 37.2", "08:00"), Proof("08:00 temp 36.8", "08:00"),
    ],
    ("temperature-back-no-labour", "main"): [
        Proof("08:00 temp 36.8\n17:00 temp 37.8", "17:00"),
    ],
    ("first-stage-long", "main"): [
        Proof(f"10:00 sign {sign}", "10:00")
        for sign in ("restless", "nesting", "panting", "shivering", "digging", "off-food")
    ],
    ("waters-no-pup", "main"): [Proof("01:00 waters clear", "01:00")],
    ("sac-no-pup", "main"): [Proof("01:00 sac", "01:00")],
    ("contraction-no-pup", "main"): [
        Proof("01:00 contraction strong\n01:05 contraction strong", "01:00"),
        Proof("00:30 contraction strong\n00:40 pup\n01:00 contraction strong", "01:00"),
    ],
    ("weak-contraction-no-pup", "main"): [Proof("01:00 contraction weak", "01:00")],
    ("part-showing", "main"): [Proof("01:00 part head\n01:02 rest", "01:00")],
    ("green-before-first-pup", "main"): [
        Proof("01:00 discharge green", "01:00"), Proof("01:00 discharge black", "01:00"),
        Proof("01:00 waters green", "01:00"),
    ],
    ("gap-more-expected", "main"): [
        Proof("02:00 pup\n02:10 rest", "02:00", header="expected: 3 xray\n"),
    ],
    ("gap-count-unknown", "main"): [Proof("02:00 pup", "02:00")],
    ("litter-short", "calm"): [Proof("02:00 pup", "02:00", header="expected: 3 xray\n")],
    ("second-stage-long", "main"): [
        Proof("02:00 contraction weak", "02:00"), Proof("02:00 pup", "02:00"),
    ],
    ("afterbirth-owed", "main"): [pup("", "02:00")],
    ("dam-tremor", "main"): [
        *(Proof(f"01:00 pup\n01:10 dam {sign}", "01:10")
          for sign in ("stiff", "staring", "unsteady", "trembling face-rubbing")),
        Proof(PUP_AND_END + "03:00 dam trembling", "03:00"),
    ],
    ("dam-cold", "weak"): [
        Proof(f"{PUP_AND_END}02:00 dam {sign}\n02:10 temp 37.4", "02:10")
        for sign in ("dull", "cannot stand", "collapsed")
    ],
    ("afterbirth-missing-at-end", "ill"): [
        *(Proof(PUP_AND_END + f"02:00 {sign}", "02:00")
          for sign in ("dam dull", "contraction strong", "temp 39.5", "discharge brown foul")),
    ],
    ("litter-short", "finished"): [Proof(PUP_AND_END, "01:30", header="expected: 3 xray\n")],
    ("dam-hot", "again"): [
        Proof(PUP_AND_END + "12:00 temp 39.4\n13:00 temp 39.4", "13:00"),
    ],
    ("dam-hot", "ill"): [
        Proof(f"{PUP_AND_END}11:00 {sign}\n12:00 temp 39.4", "12:00")
        for sign in ("dam dull", "dam refused-food", "dam vomited", "discharge brown foul")
    ],
    ("udder", "main"): [
        Proof(f"{PUP_AND_END}03:00 dam udder-{how}", "03:00") for how in ("hot", "hard", "painful")
    ],
    ("litter-short", "finished-scan"): [Proof(PUP_AND_END, "01:30", header="expected: 3 scan\n")],
    ("afterbirth-missing-at-end", "main"): [Proof(PUP_AND_END, "01:00", seen="01:30")],
    ("green-after-whelping", "main"): [
        Proof(f"{PUP_AND_END}14:30 discharge {colour}", "01:00", seen="14:30")
        for colour in ("green", "black")
    ],
    ("dam-off-food", "main"): [Proof(PUP_AND_END + "08:00 dam off food", "08:00")],
    ("pup-sign", "gasping"): [pup("03:00 state 1 gasping", "03:00")],
    ("pup-sign", "blue"): [pup("03:00 state 1 blue", "03:00")],
    ("pup-sign", "fits"): [
        pup("03:00 state 1 fits", "03:00"), pup("02:10 state 1 fits", "02:10"),
    ],
    **{
        ("pup-sign", sign): [pup(f"04:00 state 1 {sign}", "04:00")]
        for sign in ("pale", "bloated", "laboured-breathing", "milk-at-nose", "limp", "weak",
                     "crying", "cleft-palate")
    },
    ("sac-on-pup", "main"): [Proof("02:00 pup in sac", "02:00", "pup 1")],
    ("not-breathing", "main"): [
        Proof("02:00 pup limp", "02:00", "pup 1"),
        *(pup(f"02:59 state 1 {sign}", "02:59") for sign in ("limp", "gasping", "blue")),
        pup("02:10 state 1 not-breathing", "02:10"), pup("09:00 state 1 not-breathing", "09:00"),
    ],
    ("cord-bleeding", "main"): [pup("02:05 cord 1 bleeding", "02:05")],
    ("first-milk", "main"): [pup("", "02:00")],
    ("nursing-gap", "main"): [pup("08:00 feed 1 3ml bottle\n10:00 feed 1 3ml bottle", "10:00")],
}  # fmt: skip
"""For every clock on the sheet, the nights that show when it counts."""


def night(lines: str, header: str = "") -> tuple[Entry, ...]:
    return tuple(read_night(f"dam: Ash\ndate: 2026-03-02\n{header}\n{lines}\n").entries)


def moment(said: str) -> datetime:
    """An instant as the night says it: its first line is of that time."""
    return night(f"{said} note x")[-1].at


def table() -> Table:
    [found] = [block for block in limit_blocks(BOOK, READER) if isinstance(block, Table)]
    return found


def printed(row: LimitRow) -> dict[Level, str]:
    """What the sheet says of a row at each level, read from the line that holds its words."""
    words = row.words.format(**numbers(BOOK, READER)).lower()
    group = ""
    for cells in table().rows:
        first, *limits = (cell.text for cell in cells)
        group = first if not any(limits) else group
        begun = row.group.format(**numbers(BOOK, READER))
        if group == begun and f"; {words}; " in f"; {first.lower()}; ":
            said = dict(zip(ALERTS, limits, strict=True))
            return {level: text for level, text in said.items() if text}
    pytest.fail(f"not on the sheet: {row}")


_UNITS = {"d": 86400, "h": 3600, "min": 60, "s": 1}


def length(said: str) -> timedelta:
    """``1 h 30 min`` as a length of time."""
    if said == "at once":
        return timedelta()
    parts = re.findall(r"(\d+) (d|h|min|s)\b", said)
    assert " ".join(f"{count} {unit}" for count, unit in parts) == said
    return timedelta(seconds=sum(int(count) * _UNITS[unit] for count, unit in parts))


CLOCKS = [row for row in ROWS if row.key not in DEFAULT.bands]
READINGS = [row for row in ROWS if row.key in DEFAULT.bands]


@pytest.mark.parametrize(
    ("row", "proof"), [(row, proof) for row in CLOCKS for proof in PROOFS[row.key]]
)
def test_what_the_sheet_says_is_raised_then(row: LimitRow, proof: Proof) -> None:
    """Each printed level of each clock is raised at its printed time, and none at another."""
    since = moment(proof.since)
    seen = moment(proof.seen) if proof.seen else since
    due = {max(seen, since + length(said)): level for level, said in printed(row).items()}
    entries = night(proof.lines, proof.header)
    history = assess(Story(entries), DEFAULT).history(max(due) + SECOND)
    raised = {
        step.at: step.level
        for step in history
        if (step.rule.id, step.subject) == (row.rule, proof.subject)
        and step.change in {"raised", "escalated"}
        and step.level >= min(due.values())
    }

    assert raised == due


class Held(NamedTuple):
    """A night that ends in a reading: what comes before it, the line, and whose it is."""

    before: str
    line: str
    subject: str = "dam"


def score(points: int) -> str:
    """Five items that sum to so many points."""
    items = [min(2, max(0, points - 2 * place)) for place in range(5)]
    return " ".join(map(str, items))


HELD = {
    ("dam-hot", "before"): [Held("", "02:00 temp {value}")],
    ("dam-hot", "labour"): [Held("01:00 contraction weak\n", "02:00 temp {value}")],
    ("dam-hot", "day 0-3"): [
        Held(PUP_AND_END, "02:00 temp {value}"),
        Held("01:00 pup\n", "03:00 temp {value}"),
        Held(PUP_AND_END, "2026-03-05 00:59 temp {value}"),
    ],
    ("dam-cold", "main"): [
        Held(PUP_AND_END, "02:00 temp {value}"), Held("01:00 pup\n", "03:00 temp {value}"),
    ],
    ("pup-cold", "hour 1-24"): [
        Held(NEWBORN, "03:00 temp pup 1 {value}", "pup 1"),
        Held(NEWBORN, "2026-03-03 01:59 temp pup 1 {value}", "pup 1"),
    ],
    ("pup-hot", "hour 1-24"): [Held(NEWBORN, "03:00 temp pup 1 {value}", "pup 1")],
    ("viability", "middle"): [Held(NEWBORN, "02:05 score 1 {score}", "pup 1")],
    ("viability", "low"): [Held(NEWBORN, "02:05 score 1 {score}", "pup 1")],
    ("viability", "late"): [Held(NEWBORN, "03:00 score 1 {score}", "pup 1")],
    ("viability", "fall"): [Held(NEWBORN + "02:05 score 1 2 2 2 2 2\n", "02:20 score 1 {score}",
                                 "pup 1")],
}  # fmt: skip


def highest(held: Held, value: Decimal, rule: str) -> Level | None:
    """What a rule raises at a reading."""
    points = 10 - int(value) if held.before.count("score") else int(value)
    line = held.line.format(value=value, score=score(points))
    entries = night(held.before + line)
    verdict = assess(Story(entries), DEFAULT).verdict(entries[-1].at)
    levels = [alert.level for alert in verdict.alerts
              if (alert.rule.id, alert.subject) == (rule, held.subject)]  # fmt: skip
    return max(levels, default=None)


@pytest.mark.parametrize(
    ("row", "held"), [(row, held) for row in READINGS for held in HELD[row.key]]
)
def test_a_reading_raises_what_the_sheet_says(row: LimitRow, held: Held) -> None:
    """The printed value is the first that raises its level, and the one before it does not."""
    for level, said in printed(row).items():
        if level not in {band_level for band_level, _ in own_bands(row)}:
            continue  # of another row in the same line
        [number] = re.findall(r"\d+(?:\.\d+)?", said)
        value, tick = Decimal(number), Decimal("0.1" if "°C" in said else 1)
        inside = {"from": value, "below": value - tick, "above": value + tick}
        first = inside.get(said.split(maxsplit=1)[0], value)
        outward = -tick if said.startswith(("from", "above")) else tick

        assert highest(held, first, row.rule) is level, said
        assert (highest(held, first + outward, row.rule) or Level.PROMPT) < level, said


def own_bands(row: LimitRow) -> list[tuple[Level, Decimal]]:
    words = {level.word: level for level in ALERTS}
    return [(words[band.level], band.value) for band in DEFAULT.bands[row.key]]


@pytest.mark.parametrize(
    ("rule", "lines"),
    [
        ("dam-cold", "00:10 temp 36.4\n00:30 contraction weak\n01:00 pup\n01:30 temp 36.4"),
        ("pup-sign", "02:00 pup\n02:10 state 1 gasping\n02:11 state 1 blue\n02:12 state 1 limp"),
        ("pup-sign", "02:00 pup\n02:10 state 1 crying\n02:50 note later"),
        ("pup-cold", "02:00 pup\n02:59 temp pup 1 34.0"),
        ("pup-hot", "02:00 pup\n02:59 temp pup 1 39.5"),
        ("dam-off-food", "02:00 dam off food\n02:30 contraction weak\n2026-03-04 02:00 note later"),
        ("dam-tremor", "01:00 dam trembling\n02:00 pup\n02:10 dam trembling"),
        ("dam-tremor", "01:00 dam stiff"),
        ("udder", "01:00 dam udder-hard\n02:00 pup"),
        ("bleeding", "02:00 pup\n02:10 discharge red streak"),
        ("green-before-first-pup", "02:00 pup\n02:10 discharge green"),
        ("green-after-whelping", "02:00 pup\n02:30 finished\n03:00 discharge green"),
        ("dam-vomiting", "01:00 dam vomited\n02:00 dam vomited\n07:30 dam vomited"),
        ("temperature-drop-no-labour", "01:00 temp 37.1\n20:00 note later"),
    ],
)
def test_what_is_ordinary_is_not_raised(rule: str, lines: str) -> None:
    """The conditions on the sheet are those of the rules: outside them nothing is said."""
    entries = night(lines)
    history = assess(Story(entries), DEFAULT).history(entries[-1].at)

    assert not [step for step in history if step.rule.id == rule]


_LEFT_OUT = {
    ("overdue", clock) for clock in ("ovulation", "lh", "dioestrus", "mating", "scan", "late-scan")
} | {("log-quiet", "main"), ("rest-no-pup", "main"), ("weak-rest-no-pup", "main")}
"""Days are counted before the night; with no keyboard nobody watches it; and that a rest takes no
call back stands in the row of strong contractions, and weak ones are counted in the same way."""


def test_every_clock_of_the_labour_is_on_the_sheet() -> None:
    """No clock before labour, in labour or of the afterbirths is left out unnoticed."""
    groups = {"before labour", "labour", "afterbirths"}
    due = {
        key for key, spans in BOOK.now.spans.items()
        if BY_ID[key[0]].group in groups and set(spans) & set(ALERTS)
    }  # fmt: skip

    assert due - {row.key for row in ROWS} == _LEFT_OUT


@pytest.mark.parametrize("key", [row.key for row in ROWS])
def test_every_row_has_limits(key: Key) -> None:
    """A row whose clock or band has gone from the protocol would be an empty promise."""
    bands = DEFAULT.bands.get(key, ())

    assert any(band.level in {"watch", "call", "go"} for band in bands) or (
        set(BOOK.now.spans.get(key, {})) & set(ALERTS)
    )


def test_rows_that_share_a_line_agree() -> None:
    """Where two rows say the same words, neither covers up what the other one says."""
    said = dict[tuple[str, str, Level], set[str]]()
    for row in READINGS:
        for band in DEFAULT.bands[row.key]:
            level = next(level for level in ALERTS if level.word == band.level)
            place = (row.group, row.words, level)
            said.setdefault(place, set()).add(f"{band.when} {band.value}")

    assert all(len(values) == 1 for values in said.values())


def test_the_parts_of_the_night_stand_in_their_order() -> None:
    """At any time, before and during, afterwards, each pup: one under the other."""
    known = numbers(BOOK, READER)
    heads = [row[0].text for row in table().rows if not any(cell.text for cell in row[1:])]

    assert heads == [group.format(**known) for group in GROUPS]
    assert heads[2] == "Afterwards: it is over, or no push for 2 h after the last pup"
    assert {row.group for row in ROWS} == set(GROUPS)
