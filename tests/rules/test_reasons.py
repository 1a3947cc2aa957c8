"""An alert names the lines that it is about, and no others: they are read out to the vet."""

import pytest

from boxlamp.language import read_night
from support.nights import assessed

HEAD = "dam: Ash\ndate: 2026-03-02\nzone: UTC\n\n"
NEXT = "2026-03-03"


@pytest.mark.parametrize(
    ("rule", "lines"),
    [
        ("contraction-no-pup", "+01:00 contraction / 01:12 contraction / 01:25 note calm"),
        ("contraction-no-pup", "+01:00 contraction / 01:10 rest / +01:12 push / 01:40 push"),
        ("rest-no-pup", "+01:00 contraction / 01:10 rest / 01:12 contraction / +01:40 rest"),
        ("afterbirths-behind", "+01:00 pup / +01:20 pup / +01:40 pup"),
        (
            "afterbirths-behind",
            "01:00 pup / 01:05 afterbirth / +01:20 pup / +01:40 pup / +02:00 pup",
        ),
        (
            "afterbirth-missing-at-end",
            "01:00 pup / +01:20 pup / 01:25 afterbirth of 1 / +02:00 finished / 03:00 note calm",
        ),
        (
            "afterbirth-missing-at-end",
            "01:00 pup / 01:30 finished / +05:00 dam dull / +06:00 temp 40",
        ),
        (
            "afterbirth-missing-at-end",
            "01:00 pup / +01:20 afterbirth of 1 not seen / 01:30 finished / +06:00 temp 40",
        ),
        ("foul-discharge", "01:00 pup / +05:00 discharge foul / +06:00 temp 40.1"),
        ("foul-discharge", "01:00 pup / +05:00 dam dull / +06:00 discharge foul"),
        ("foul-discharge", "01:00 pup / 05:00 dam ate / +06:00 discharge foul"),
        ("dam-vomiting", "+01:00 dam vomited / +02:30 dam vomited / +04:00 dam vomited"),
        ("dam-vomiting", "+01:00 dam dull / +02:30 dam vomited"),
        ("dam-vomiting", "01:00 dam vomited / +02:30 dam vomited / +03:00 dam dull"),
        ("dam-hot", f"01:00 pup / +{NEXT} 05:00 temp 39.6 / +{NEXT} 18:00 temp 39.6"),
        ("green-after-whelping", f"+01:00 pup / 01:30 finished / +{NEXT} 09:00 discharge green"),
        ("litter-losses", "01:00 pup / 01:20 pup / +05:00 died 1 / +06:00 died 2"),
        ("litter-short", "00:10 expect 3 xray / 01:00 pup / +01:30 finished"),
        ("gap-more-expected", "00:10 expect 5 xray / 01:00 pup / +01:20 pup / 05:30 rest"),
        ("second-stage-long", "+00:10 contraction / 01:00 pup / 13:20 contraction"),
        (
            "temperature-drop-no-labour",
            f"01:00 temp 38.4 / +08:00 temp 37.1 / +09:00 temp 37.1 / {NEXT} 09:00 note calm",
        ),
    ],
)
def test_an_alert_names_the_lines_it_is_about(rule: str, lines: str) -> None:
    """Here those behind a plus sign, in the order in which they were typed."""
    typed = lines.split(" / ")
    entries = read_night(HEAD + "\n".join(line.removeprefix("+") for line in typed)).entries
    text = {entry.id: entry.text for entry in entries}
    alerts = assessed(entries).verdict(entries[-1].at).alerts
    [found] = [alert for alert in alerts if alert.rule.id == rule]

    about = [line.removeprefix("+") for line in typed if line.startswith("+")]
    assert [text[number] for number in found.entries] == about
