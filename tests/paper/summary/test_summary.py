"""What stands in the summary for the vet, and what it says of nights that are unlike the usual."""

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from decimal import Decimal

import pytest

from boxlamp.paper.account.account import account_of
from boxlamp.paper.account.models import Account
from boxlamp.paper.document import BarChart, CurveChart, Document, Facts, Points, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.summary import summary_of
from support.accounts import READER, entries_of, matter_of
from support.nights import DEMO
from support.short_nights import judged

NIGHTS = sorted(path.stem for path in DEMO.glob("*.night"))
SEVEN = datetime(2026, 4, 12, 7, 0, tzinfo=UTC)
CALL = datetime(2026, 3, 2, 2, 25, tzinfo=UTC)
AMERICAN = Reader(READER.zone, "12h", "oz", "F")


def texts(document: Document) -> Iterator[str]:
    """Every text of a document, in order; the pictures apart from their titles."""
    yield from (document.title, document.subtitle, document.foot)
    for section in document.sections:
        yield section.title
        for block in section.blocks:
            match block:
                case Facts(rows=rows):
                    yield from (text for row in rows for text in row)
                case Table():
                    yield from (cell.text for row in block.rows for cell in row)
                    yield "" if block.rows else block.empty
                case Words(text=text):
                    yield text
                case Points(items=items):
                    yield from (item.text for item in items)
                case BarChart() | CurveChart():
                    yield block.title


def printed(lines: str, *, until: datetime | None = None, header: str = "") -> str:
    """The summary of a short night, all its text on one line each."""
    account = account_of(judged(lines, until, header))
    return "\n".join(texts(summary_of(account, Reader(UTC))))


def section(document: Document, title: str) -> str:
    """The text of one section."""
    [found] = [one for one in document.sections if one.title == title]
    return "\n".join(texts(document._replace(sections=(found,))))


def account(night: str) -> Account:
    """A demo night as facts."""
    return account_of(matter_of(entries_of(night)))


@pytest.mark.parametrize("night", NIGHTS)
def test_every_fact_a_vet_asks_for_is_printed(night: str) -> None:
    """Each pup with its time and weight, each interval, alert, treatment and contact is there."""
    facts = account(night)
    text = "\n".join(texts(summary_of(facts, READER)))

    for pup in facts.pups:
        assert READER.time(pup.born) in text
        assert pup.birth_weight_g is None or READER.weight(pup.birth_weight_g) in text
        assert pup.mark is None or pup.mark in text
    for alert in facts.alerts:
        if alert.rule != "log-quiet":
            assert alert.message in text
            assert READER.time(alert.raised) in text
    assert all(given.what in text for given in facts.given)
    assert all(contact.said in text for contact in facts.contacts)
    assert all(caution in text for caution in facts.cautions)
    assert facts.digest.sha256 in text


@pytest.mark.parametrize("night", NIGHTS)
def test_every_entry_has_its_line_in_the_timeline(night: str) -> None:
    """Nothing that was typed is missing: each line is numbered as in the journal."""
    facts = account(night)
    [timeline] = [one for one in summary_of(facts, READER).sections if one.title == "Timeline"]
    [table] = [block for block in timeline.blocks if isinstance(block, Table)]

    assert [row[0].text for row in table.rows] == [str(line.typed.id) for line in facts.timeline]


@pytest.mark.parametrize("night", NIGHTS)
def test_another_readers_units_stand_everywhere(night: str) -> None:
    """Told in ounces, Fahrenheit and by the twelve-hour clock nothing metric is left over."""
    facts = account(night)
    text = "\n".join(texts(summary_of(facts, AMERICAN)))

    assert "°C" not in text
    assert not re.search(r"\d (g|kg)\b", text)
    assert not re.search(r"(?<![\d:])([01]\d|2[0-3]):\d\d(?! [ap]m)", text)
    assert facts == account(night), "what is stored was changed"


@pytest.mark.parametrize("night", NIGHTS)
def test_the_sources_are_numbered_as_they_are_cited(night: str) -> None:
    """Every number in brackets among the limits is a source, and every source is cited."""
    document = summary_of(account(night), READER)
    cited = set(re.findall(r"\[(\d+)\]", section(document, "Limits in force")))
    listed = re.findall(r"^\[(\d+)\]", section(document, "Sources"), re.MULTILINE)

    assert cited == set(listed)
    assert [int(number) for number in listed] == list(range(1, len(listed) + 1))


def test_a_corrected_line_says_what_it_read_before_and_a_withdrawn_one_stays() -> None:
    """Who changed what, when and why stands beside the line itself."""
    timeline = section(summary_of(account("caesarean"), READER), "Timeline")

    assert "Pup 4 born: bitch, 195 g" in timeline
    assert "corrected 02:31 (weighed again, the scale had slipped)" in timeline
    assert "it read: Pup 4 born: bitch, 190 g" in timeline
    assert "withdrawn 02:34: that was on the towel, from the bath" in timeline


def test_an_unfinished_night_says_so_at_the_top() -> None:
    """A sheet printed in the middle of the night cannot be taken for its end."""
    text = printed("02:00 push\n02:10 pup\n")

    assert "NOT FINISHED" in text.split("\n")[1]
    assert "goes on" in text


def test_a_night_without_a_pup_is_a_sheet_too() -> None:
    """Nothing is born, nothing is known, and each of it is said in words."""
    text = printed("01:00 sign restless\n")

    assert "no pup born by Mon 2 Mar 2026" in text
    assert "No pup was written down." in text
    assert "number expected not known" in text
    assert "Due\nnot known" in text


def test_what_is_open_is_read_first() -> None:
    """The first thing under the title is what still stands, or that nothing does."""
    for night in ("stalled-labour", "fourteen-pups"):
        assert summary_of(account(night), READER).sections[0].title == "Still open"


def test_a_cold_pup_is_not_called_well() -> None:
    """Its row says what stands and the thermometer; alive alone only where nothing stands."""
    text = printed(
        "02:00 pup\n02:01 breathing 1\n02:02 pup limp\n02:03 breathing 2\n02:04 pup\n"
        "02:05 breathing 3\n02:06 cord 1 bleeding\n03:30 temp pup 2 34.0\n",
        until=datetime(2026, 3, 2, 3, 40, tzinfo=UTC),
    )

    assert "\ncord bleeding\n" in text
    assert "\nlimp at birth, now cold; 34.0 °C at 03:30\n" in text
    assert text.count("\nalive\n") == 1


def test_an_alert_outweighs_that_it_is_said_to_be_well() -> None:
    """A pup that looks well and loses weight is told as one that loses weight."""
    lines = "02:00 pup 300g\n02:20 milk 1\n"
    later = "2026-03-03 14:00 weigh 1 255g\n2026-03-03 14:01 state 1 well\n"
    text = printed(f"{lines}{later}")

    assert "\nhas lost weight; said to be well\n" in text
    assert "\n300 g\n255 g\n-15.0 %\n" in text


def test_the_newest_weight_has_a_column_once_there_is_one() -> None:
    """Beside the birth weight, with what it came to in a hundred; before that nothing is empty."""
    lines = "02:00 pup 300g\n02:20 pup 280g\n"
    again = printed(f"{lines}2026-03-03 14:00 weigh 1 330g\n")

    assert "\n300 g\n330 g\n+10.0 %\n" in again
    assert "Now: the newest weight; Change: since birth." in again
    assert "Now: " not in printed(lines)


def test_when_it_gets_worse_is_never_said_as_a_time_to_wait_for() -> None:
    """The advice stands first, and the time says what it is the time of."""
    still = section(summary_of(account_of(judged("02:00 push\n", CALL)), Reader(UTC)), "Still open")

    assert "CALL: Ring the vet now. Strong contractions began 25 min ago and no pup" in still
    assert "It becomes GO at 2 Mar 02:30, unless what ends it is written down before." in still
    assert "Look again" not in still


def test_what_somebody_noted_of_a_pup_stands_with_it() -> None:
    """Milk at the nose is found without reading the timeline."""
    text = printed("02:00 pup\n03:00 feed 1 2ml bottle; milk came out of nose\n")

    assert text.index("milk came out of nose") < text.index("Timeline")


def test_what_still_stands_is_the_first_of_the_alerts() -> None:
    """The gravest first; what is over follows in its order."""
    text = printed(
        "02:00 push\n02:25 pup\n02:26 breathing 1\n03:00 temp 39.8\n04:00 temp 38.5\n"
        "04:30 finished\n05:00 discharge brown foul\n05:10 dam collapsed\n"
    )
    alerts = text[text.index("\nAlerts\n") : text.index("\nTreatments")]

    marks = re.findall(r"^!{2,3} (?:CALL|GO)$", alerts, re.MULTILINE)
    assert marks[0] == "!!! GO"
    assert alerts.index("collapsed") < alerts.index("Strong contractions")
    assert alerts.rindex("STILL STANDS") < alerts.index("Strong contractions")


def test_what_was_given_to_one_pup_stands_with_no_other() -> None:
    """Nor is a fact about the dam an answer to an alert."""
    text = printed(
        "02:00 pup limp\n02:02 given rub and airway 1; better\n02:10 pup limp\n"
        "02:12 given warmth pup 2\n02:20 breathing 1\n02:21 breathing 2\n"
    )
    alerts = text[text.index("\nAlerts\n") : text.index("\nTreatments")]

    assert alerts.count("rub and airway 1") == 1
    assert alerts.count("warmth pup 2") == 1


def test_an_alert_that_is_over_says_no_moment_ago_for_good() -> None:
    """What was raised the second it was written down is told as it was when it ended."""
    text = printed("02:00 discharge green\n02:20 pup\n03:00 finished\n")

    assert "was seen 20 min ago and no pup has come" in text
    assert "a moment" not in text[: text.index("Timeline")]


def test_alive_is_said_only_of_pups_that_something_living_was_written_of() -> None:
    """A birth with nothing after it is no proof of life; nor is it a death."""
    lines = "02:00 pup\n02:01 breathing 1\n02:30 pup\n"

    assert "2 born, 2 alive as far as is known, 0 dead" in printed(lines)
    assert "2 born, 2 alive, 0 dead" in printed(f"{lines}02:40 milk 2\n")


def test_pushes_of_no_stated_strength_are_told_as_such() -> None:
    """They count as strong, and a vet is told that nobody said so."""
    text = printed("02:00 push\n02:10 push strong\n02:20 pup\n")

    assert "20 min in all, from 2 lines" in text
    assert "; 1 of them with no strength stated" in text
    assert "1 line written down, for how long is not known; no strength stated" in printed(
        "02:00 push\n02:00 pup\n"
    )
    assert "Whether she pushed all the while is not known." in text


def test_the_dam_as_last_seen_is_on_the_first_sheet() -> None:
    """Her last temperature with the highest, the last discharge, how she looked."""
    text = printed(
        "02:00 pup\n02:30 finished\n05:00 temp 39.7\n08:00 temp 38.9\n"
        "08:05 discharge green foul\n08:10 dam dull\n"
    )

    assert "38.9 °C, 2 Mar 08:00; the highest 39.7 °C, 2 Mar 05:00" in text
    assert "green" in text
    assert "dull, 2 Mar 08:10" in text


def test_every_weighing_stands_in_a_table_once_there_is_more_than_the_birth_weights() -> None:
    """A row for each round, a column for each pup, the number as it was weighed."""
    document = summary_of(account("eight-weeks"), READER)
    weights = section(document, "Weights")

    assert re.search(r"at birth\n0\n428\n395\n441\n402\n239\n388\n415", weights)
    assert re.search(r"20 Mar 08:30\n6\n588\n557\n622\n560\n304\n541\n591", weights)
    assert "Weights" not in [one.title for one in summary_of(account("caesarean"), READER).sections]


def test_what_each_pup_has_reached_is_told_with_its_day() -> None:
    """Worming, vaccination, transponder and leaving are found without reading the timeline."""
    since = section(summary_of(account("eight-weeks"), READER), "The pups since")

    assert "826098100001237 4 May" in since
    assert since.count("28 Apr") == 7


def test_a_tightened_limit_says_for_what() -> None:
    """No vet changed it, and still it is not the usual one."""
    limits = section(summary_of(account("pup-stuck"), READER), "Limits in force")

    assert "No limit was changed on anybody's word." in limits
    assert "Tightened by this program for: flat-faced breed." in limits
    assert "5 min (usually 15 min)" in limits


def test_a_caesarean_is_told_with_the_pups_it_brought() -> None:
    """How each pup came stands in its row, and the afterbirths are not owed."""
    document = summary_of(account("caesarean"), READER)

    assert section(document, "Pups").count("\ncaesarean\n") == 4
    assert "The rest counted as taken out at the caesarean." in section(document, "Afterbirths")
    assert "born dead" in section(document, "Pups")


def test_an_afterbirth_that_is_owed_is_told_with_its_pup() -> None:
    """The balance names whose it is."""
    text = printed("02:00 pup red\n02:10 afterbirth\n02:30 pup blue\n03:00 finished\n")

    assert "2 pups, 1 afterbirth passed." in text
    assert "Owed, nobody has seen it: pup 2 (marked blue)." in text


def test_an_estimated_time_is_said_to_be_one() -> None:
    """A tilde in the log is `about` on the paper, in the table and in the timeline."""
    text = printed("~02:00 pup\n03:00 pup\n")

    assert "about 2 Mar 02:00" in text
    assert "about 1 h 00 min, from pup 1 to pup 2" in text


def test_a_limit_changed_on_the_vets_word_is_told_with_who_and_why() -> None:
    """The change stands above the limits, and the protocol's own beside the one in force."""
    text = printed(
        "00:30 limit gap-more-expected call 3h by Dr Lind; large litter\n02:00 pup\n",
        header="expected: 6 xray\n",
    )

    assert "Changed: Long gap, more pups to come, call at 3 h 00 min, on the word of" in text
    assert "3 h 00 min (usually 2 h 00 min)" in text
    assert "large litter" in text


def test_a_refused_change_is_told_as_refused() -> None:
    """A rule that is never relaxed keeps its limit, and the paper says that it was asked."""
    text = printed("00:30 limit not-breathing call 30min by Dr Lind; calm down\n02:00 pup limp\n")

    assert "Refused, never relaxed" in text


def test_a_line_typed_late_says_when_it_was_typed() -> None:
    """A reader can tell what was known at the time from what was filled in afterwards."""
    entries = tuple(
        entry.model_copy(update={"recorded": datetime(2026, 4, 12, 6, 0, tzinfo=UTC)})
        if entry.id == 21 else entry
        for entry in entries_of("stalled-labour")
    )  # fmt: skip
    timeline = section(summary_of(account_of(matter_of(entries, SEVEN)), READER), "Timeline")

    assert "typed 08:00" in timeline


def test_pups_are_drawn_over_their_own_days() -> None:
    """A curve begins at birth, whatever the hour, and ends with the last weight."""
    [charts] = [
        one for one in summary_of(account("eight-weeks"), READER).sections if one.title == "Charts"
    ]
    [weights] = [block for block in charts.blocks
                 if isinstance(block, CurveChart) and "Weights" in block.title]  # fmt: skip

    assert len(weights.curves) == 7
    assert all(0 <= curve.points[0][0] < 1 for curve in weights.curves)
    assert {len(curve.sign) for curve in weights.curves} == {1}


def test_weights_in_ounces_are_the_same_weights() -> None:
    """A pound is 453.59237 g by definition, so 16 oz on the paper are that many grams stored."""
    assert AMERICAN.weight(Decimal("453.59237")) == "16.0 oz"


def test_a_pup_has_one_number_on_the_whole_paper() -> None:
    """The one it goes by, also when a struck birth left a gap or one was written down late."""
    lines = "02:00 pup\n02:20 pup\n02:40 pup\n02:41 strike 3 typed twice\n"
    lines += "2026-03-02 02:10 pup\n"
    matter = judged(lines, CALL.replace(hour=3))
    document = summary_of(account_of(matter), Reader(UTC))
    [pups] = [one for one in document.sections if one.title == "Pups"]
    [table] = [one for one in pups.blocks if isinstance(one, Table)]

    assert [row[0].text for row in table.rows] == ["1", "4", "3"]
    assert "the rows are in order of birth" in section(document, "Pups")
    assert "in order of birth" not in printed("02:00 pup\n02:20 pup\n", until=CALL)
