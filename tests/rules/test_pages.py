"""Every rule explains itself: its page, its texts and its example are in order."""

import re
from pathlib import Path
from string import Formatter

import pytest

from boxlamp.model.levels import ALERTS, Level
from boxlamp.rules.page import HEADINGS, PageError, read_page
from boxlamp.rules.registry import BY_ID, NEVER_RELAXED, RULES
from boxlamp.rules.rule import Rule
from support.nights import DEFAULT, Case, check

EACH_RULE = pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
HEADER = "dam: Ash\ndate: 2026-03-02\n"
GROUPS = ["before labour", "labour", "afterbirths", "the dam", "each pup"]
CATALOGUED_NEVER_RELAXED = {
    "contraction-no-pup", "rest-no-pup", "part-showing", "green-before-first-pup", "foul-discharge",
    "dam-collapse", "dam-tremor", "not-breathing",
}  # fmt: skip
BEGINS = {Level.CALL: "Ring the vet now", Level.GO: "Leave for the vet now and ring on the way"}
HELP_FIRST = {"sac-on-pup", "not-breathing", "cord-bleeding", "pup-cold"}
"""Rules in which the first act saves the pup: that act comes first, and the telephone second."""

DOSE = re.compile(
    r"\d\s*(?:mg|µg|mcg|g/kg|ml/kg|mL/kg|mg/kg|IU|i\.u\.|units?|drops|tablets?)\b", re.IGNORECASE
)
BANNED = re.compile(
    r"guarantee|diagnos|100 ?%|always works|perfectly safe|no need (?:for|to (?:ring|call)) the vet"
    r"|instead of (?:a|the) vet|oxytocin|doxapram",
    re.IGNORECASE,
)


def texts_of(rule: Rule) -> list[str]:
    """Everything a rule can say to a person, its evidence included."""
    does = [line for lines in rule.do.values() for line in lines]
    records = [record.says for record in DEFAULT.records_of(rule.id)]
    return [rule.title, rule.page, *rule.says.values(), *does, *records]


def example_of(rule: Rule) -> str:
    """The example of a rule's page as a whole night; it may bring header lines of its own."""
    example = read_page(rule.page).example
    head, blank, lines = example.partition("\n\n")
    if blank and all(re.match(r"[a-z -]+: ", line) for line in head.splitlines()):
        return f"{HEADER}{head}\n\n{lines}"
    return f"{HEADER}\n{example}"


@EACH_RULE
def test_the_page_has_its_headings_in_order(rule: Rule) -> None:
    """Title, what it watches, why it matters, what to do, example: all there, none empty."""
    page = read_page(rule.page)
    assert rule.page.splitlines()[0].endswith(".")
    for text in (page.title, page.watches, page.matters, page.todo, page.example):
        assert text.strip()


@EACH_RULE
def test_the_example_raises_exactly_what_it_says(rule: Rule) -> None:
    """The example of the page is run, and something is expected in it."""
    case = Case(f"{rule.id}: example", example_of(rule), rule=rule.id)
    assert any(line.rule == rule.id for line in case.night.expected)
    assert not [entry for entry in case.night.entries if getattr(entry.what, "unread", False)]
    check(case)


@EACH_RULE
def test_the_name_is_plain_and_that_of_its_module(rule: Rule) -> None:
    """One name in the file system, the registry, the protocol and on the screen."""
    assert re.fullmatch(r"[a-z]+(?:-[a-z]+)*", rule.id)
    module = rule.watch.__module__.rpartition(".")[2]
    assert module == rule.id.replace("-", "_")


def test_every_rule_module_is_registered_once_and_in_the_order_of_the_groups() -> None:
    """No rule sleeps in a file that nobody runs."""
    room = Path(__file__).parents[2] / "src" / "boxlamp" / "rules"
    modules = {
        path.stem
        for path in room.glob("*.py")
        if re.search(r"^RULE = ", path.read_text(encoding="utf-8"), re.MULTILINE)
    }
    assert modules == {rule.id.replace("-", "_") for rule in RULES}
    assert len(BY_ID) == len(RULES)
    order = [GROUPS.index(rule.group) for rule in RULES]
    assert order == sorted(order)


@EACH_RULE
def test_what_to_do_begins_with_the_one_thing_to_do(rule: Rule) -> None:
    """A call begins with the telephone and a go with the car, unless an act of seconds saves."""
    for level, begins in BEGINS.items():
        lines = rule.do.get(level, ())
        if lines and rule.id not in HELP_FIRST:
            assert lines[0].startswith(begins)
        elif lines:
            assert any(line.startswith(begins) for line in lines[:2])


@EACH_RULE
def test_the_first_line_of_what_to_do_is_short(rule: Rule) -> None:
    """It is read in one glance, at three in the morning."""
    for level, lines in rule.do.items():
        assert lines, level
        assert len(lines[0]) <= 105, lines[0]


@EACH_RULE
def test_every_level_the_protocol_gives_says_what_to_do(rule: Rule) -> None:
    """No limit and no band without steps of that very level, and no steps nobody reaches."""
    limits = {
        level for key, levels in DEFAULT.spans.items() if key[0] == rule.id for level in levels
    }
    bands = {
        Level[band.level.upper()]
        for key, records in DEFAULT.bands.items()
        if key[0] == rule.id
        for band in records
    }
    # A band marked `prompt` may only sort readings; it is no level that anybody is shown.
    assert limits | (bands & set(ALERTS)) <= set(rule.do) <= limits | bands


@EACH_RULE
def test_sentences_use_only_what_the_engine_fills_in(rule: Rule) -> None:
    """An unknown field would fail at the worst moment."""
    for template in rule.says.values():
        fields = {name for _, name, _, _ in Formatter().parse(template) if name is not None}
        assert fields <= {"elapsed", "lasting", "ago", "subject", "detail", "also"}
        assert template.endswith((".", "?", "!"))


@EACH_RULE
def test_sentences_are_for_clocks_the_protocol_knows(rule: Rule) -> None:
    """A sentence for a clock that does not exist is a sentence nobody will read."""
    clocks = {clock for name, clock in [*DEFAULT.spans, *DEFAULT.bands] if name == rule.id}
    assert set(rule.says) <= clocks | {""}


@EACH_RULE
def test_no_text_holds_a_dose_or_a_promise(rule: Rule) -> None:
    """No drug, no dose, no diagnosis, no guarantee."""
    for text in texts_of(rule):
        assert not DOSE.search(text), text
        assert not BANNED.search(text), text


@pytest.mark.parametrize(
    "text", ["2 mg", "0.5 ml/kg", "10 IU now", "5 units", "1 g/kg", "2 drops", "3mg/kg"]
)
def test_a_dose_would_be_found(text: str) -> None:
    """The net has no hole of that size."""
    assert DOSE.search(text)


@pytest.mark.parametrize("text", ["2 cm from the belly", "weigh it: 312 g", "within 24 hours"])
def test_a_measure_is_no_dose(text: str) -> None:
    """What belongs to the work at the box may be said."""
    assert not DOSE.search(text)


def test_never_relaxed_is_what_the_catalogue_says() -> None:
    """Exactly those of the catalogue."""
    assert CATALOGUED_NEVER_RELAXED == NEVER_RELAXED


def test_a_page_is_taken_apart() -> None:
    """Prose on one line per paragraph, the example as it stands."""
    page = read_page(
        "A title.\n\nWhat it watches: one\ntwo.\n\nthree.\n\nWhy it matters: because.\n\n"
        "What to do: something.\n\nExample:\n    02:00 pup\n    02:10 rest\n"
    )
    assert page.title == "A title"
    assert page.watches == "one two.\n\nthree."
    assert page.example == "02:00 pup\n02:10 rest\n"


@pytest.mark.parametrize("missing", HEADINGS)
def test_a_page_without_a_heading_is_refused(missing: str) -> None:
    """The sentence names the heading."""
    text = "Title.\n" + "".join(
        f"\n{heading}: words.\n" for heading in HEADINGS if heading != missing
    )
    with pytest.raises(PageError, match=f"{missing}.*missing"):
        read_page(text)


def test_a_page_with_nothing_under_a_heading_is_refused() -> None:
    """A heading is a promise."""
    text = "Title.\n" + "".join(f"\n{heading}: words.\n" for heading in HEADINGS)
    with pytest.raises(PageError, match="nothing stands"):
        read_page(text.replace("Why it matters: words.", "Why it matters:"))


def test_a_page_with_its_headings_out_of_order_is_refused() -> None:
    """Every page is read from top to bottom in the same way."""
    text = "Title.\n" + "".join(f"\n{heading}: words.\n" for heading in reversed(HEADINGS))
    with pytest.raises(PageError, match="out of order"):
        read_page(text)


@EACH_RULE
def test_every_rule_that_sends_to_the_vet_does_so_in_one_sentence(rule: Rule) -> None:
    """So that those who are on the way already are told to drive on, and nobody to leave."""
    sends = [step for steps in rule.do.values() for step in steps if "Leave for" in step]

    assert all(step.startswith("Leave for the vet now and ring on the way.") for step in sends)
    assert all(step.count("Leave for") == 1 for step in sends)
