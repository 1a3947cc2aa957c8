"""The situation on a call sheet: whom to ring, who she is, what is wrong now, by which clock."""

import re
from datetime import UTC, datetime
from decimal import Decimal

import pytest

from boxlamp.model.happenings import (
    Afterbirth,
    Birth,
    Contraction,
    Details,
    Expect,
    Finished,
    Mating,
    Note,
    Step,
    What,
)
from boxlamp.model.levels import Level
from boxlamp.paper.call_sheet.findings import finding
from boxlamp.paper.call_sheet.lines import sheet_lines
from boxlamp.paper.call_sheet.sheet import call_sheet
from boxlamp.paper.call_sheet.teller import Teller
from support.accounts import READER
from support.boxes import demo_verdict
from support.made import at, entry, told
from support.nights import DEFAULT
from support.sheets import VET, alert_of, judged, said, sheet_at, text


def test_it_begins_with_whom_to_ring_and_what_is_wrong() -> None:
    """The level and the number first; then who she is, the alert, its clock, the limit."""
    verdict = demo_verdict("stalled-labour", datetime(2026, 4, 12, 0, 26, tzinfo=UTC))

    assert text(sheet_lines(call_sheet(verdict, READER), 80))[:5] == [
        "!! CALL      Dr Horak (invented), 000 555 020; 35 min away.",
        "SITUATION    02:26. Juniper, Labrador Retriever: in labour for 3 h 06 min.",
        "wrong now    The last pup came 2 h 07 min ago: 4 more to come by the x-ray.",
        "by the clock Long gap, more pups to come: 2 h 07 min since 00:19; limit 2 h.",
        "to watch     Low birth weight.",
    ]


def test_nothing_wrong_is_said_and_leaves_the_word_to_the_caller() -> None:
    """Without an alert there is a sheet as well: somebody has a reason to ring."""
    sheet = sheet_at(0)

    assert sheet.level is None
    assert said(sheet, "RING") == "Dr Vrba, 000 555 090; 25 min away."
    assert said(sheet, "wrong now").startswith("No alert stands now. Say in your own words")
    assert said(sheet, "ask").startswith("May she wait?")


def test_no_number_is_said() -> None:
    """Whom to ring is known or it is said not to be."""
    sheet = call_sheet(judged(told((0, Details(dam="Fern"))), at(5)), READER)

    assert said(sheet, "RING") == "The vet: no number is written down."


def test_an_estimate_is_said_to_be_one() -> None:
    """A time that somebody guessed is "about", in its own fact and where a clock counts from it."""
    lines = [entry(1, -600, VET), entry(2, 0, Contraction(strength="strong"))]
    lines[1] = lines[1].model_copy(update={"certainty": "estimated"})
    sheet = call_sheet(judged(tuple(lines), at(40)), READER)

    assert said(sheet, "pushing").startswith("Last push at about 03:00, 40 min ago, strong.")
    assert "since about 03:00" in said(sheet, "by the clock")
    assert "for about 40 min" in said(sheet, "who")
    assert said(sheet, "so far") == "First push about 03:00."


def test_a_limit_that_came_later_is_not_said_to_have_been_reached() -> None:
    """Limits do not reach back: what was tightened at 04:40 has stood since then, and says why."""
    verdict = judged(
        told((-600, Details(dam="Fern")), (0, Expect(count=6, method="xray")), (70, Birth(pup=1)),
             (165, Details(first_litter=True, age_years=Decimal(6)))), at(170),
    )  # fmt: skip
    words = said(call_sheet(verdict, READER), "by the clock")
    usual = said(sheet_at(22, (0, Contraction(strength="strong"))), "by the clock")

    assert words == (
        "Long gap, more pups to come: 1 h 40 min since 04:10. The limit to ring the vet is "
        "1 h 30 min (since 05:45, when first litter over 4 years became known)."
    )
    assert usual.endswith("The limit to leave for the vet is 20 min, reached at 03:20.")


def test_other_alerts_get_a_line_each_and_watches_are_counted() -> None:
    """Nothing that asks to ring is hidden behind the worst."""
    verdict = demo_verdict("pup-stuck", datetime(2026, 5, 17, 20, 52, tzinfo=UTC))
    sheet = call_sheet(verdict, READER)
    others = [alert for alert in verdict.alerts[1:] if alert.level >= Level.CALL]
    loud = [fact for fact in sheet.facts[2:] if fact.label.startswith("!!")]

    assert len(loud) == len(others) > 0


ORDER = re.compile(
    r"^(Help|Open|Warm|Keep|Off|Stop|Score|Ask|Weigh|Ring|Look|Cool|Clear|Rub)\b|\?|"
    r"\. (Warm|Clear|Keep|Do not|Think|Rub)\b"
)


# On the telephone "you" is the vet.
YOU = re.compile(r"(?i)\byou(?:rs?|rself)?\b")


RULES_BY_CLOCK = sorted(
    {(one.rule, one.clock) for one in DEFAULT.limit if one.level != "prompt"}
    | {(one.rule, one.clock) for one in DEFAULT.band if one.level != "prompt"}
)


@pytest.mark.parametrize(("rule", "clock"), RULES_BY_CLOCK)
def test_what_is_read_aloud_is_a_finding(rule: str, clock: str) -> None:
    """No alert gives the vet an order or asks them what the breeder should look at."""
    teller = Teller(judged(told((-600, VET), (0, Birth(pup=1))), at(10)), READER)
    words = finding(alert_of(rule, clock), teller)

    assert not ORDER.search(words), words
    assert not YOU.search(words), words
    assert words[0] == words[0].upper()


def test_what_was_missed_by_whom_is_not_told_to_the_vet_as_theirs() -> None:
    """Who guessed and who wrote that she has finished is not whoever answers the telephone."""
    guessed = sheet_at(200, (0, Expect(count=3, method="guess")), (1, Birth(pup=1)))
    short = sheet_at(9, (0, Expect(count=3, method="xray")), (1, Birth(pup=1)), (2, Finished()))
    failed = alert_of("gap-more-expected", "failure")
    teller = Teller(judged(told((-600, VET), (0, Birth(pup=1))), at(10)), READER)
    shown = [
        fact.words
        for sheet in (guessed, short)
        for fact in sheet.facts
        if fact.part in {"situation", "background"}
    ]

    assert said(guessed, "wrong now") == (
        "The last pup came 3 h 19 min ago: 2 more to come by a guess."
    )
    assert said(short, "wrong now") == (
        "It was written down that she has finished, but pups are missing: 1 born, 3 on the x-ray."
    )
    for words in (*shown, finding(failed, teller)):
        assert not YOU.search(words), words


def test_a_light_pup_is_not_what_is_wrong_in_a_labour() -> None:
    """Nothing calls for a call, and what to keep an eye on is named without its source."""
    sheet = sheet_at(
        5, (0, Details(breed="Labrador Retriever")), (0, Birth(pup=1, weight=Decimal(330))),
        (1, Step(pup=1, step="breathing")),
    )  # fmt: skip

    assert sheet.level is Level.WATCH
    assert said(sheet, "wrong now") == "Nothing that calls for a call stands."
    assert said(sheet, "to watch") == "Low birth weight."
    after = sheet_at(
        5, (0, Details(breed="Labrador Retriever")), (0, Birth(pup=1, weight=Decimal(330))),
        (1, Afterbirth()), (4, Finished()),
    )  # fmt: skip
    assert said(after, "wrong now").startswith("Birth weight low, pup 1: Labrador Retriever pups")
    assert "(" not in said(after, "wrong now")
    assert "watch her" not in said(after, "by the clock")


def test_it_counts_from_the_last_pup() -> None:
    """Not from the first, which may be half a day before; in days from the second on."""
    lines = [(0.0, Birth(pup=1)), (300.0, Birth(pup=2)), (330.0, Finished())]

    assert said(sheet_at(359, *lines), "who").endswith("last pup 59 min ago.")
    assert said(sheet_at(300 + 48 * 60, *lines), "who").endswith("last pup 2 days ago.")


def test_a_date_without_a_time_has_no_hours() -> None:
    """Days of gestation are days: nobody knows at what hour she was mated."""
    mated = entry(2, -60 * 24 * 68 - 120, Mating()).model_copy(update={"certainty": "day"})
    sheet = call_sheet(judged((entry(1, -60 * 24 * 69, VET), mated), at(0)), READER)

    assert re.match(r"It is \d+ days since the first mating", said(sheet, "wrong now"))
    assert not re.search(r"\d h\b|:00", said(sheet, "by the clock"))


def test_before_anything_was_known_it_says_so() -> None:
    """It does not list everything as not noted, as if somebody had forgotten it."""
    sheet = call_sheet(judged(told((0, VET)), at(-60)), READER)

    assert said(sheet, "who").endswith("Nothing was written down of her by then.")
    assert sheet.unknown == ()


def test_a_labour_call_stands_above_a_pups_milk() -> None:
    """Of one level what is wrong now is the labour, and the request is about her."""
    lines: list[tuple[float, What]] = [
        (0, Note()), (1, Birth(pup=1)), (2, Step(pup=1, step="breathing")), (3, Afterbirth()),
    ]  # fmt: skip
    verdict = judged(told((-600, VET), *lines), at(60 * 5))
    sheet = call_sheet(verdict, READER)
    [milk] = [alert for alert in verdict.alerts if alert.rule.id == "first-milk"]
    worst = verdict.alerts[0]

    assert (worst.rule.group, worst.level) == ("labour", milk.level)
    assert milk.raised >= worst.raised
    assert said(sheet, "wrong now").startswith("The last pup")
    assert "bring her in now" in said(sheet, "ask")
