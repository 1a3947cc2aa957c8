"""The limits of one litter over time, and a vet's own limits."""

from datetime import timedelta

import pytest

from boxlamp.engine import assess
from boxlamp.engine.standing import standings
from boxlamp.model.happenings import Contraction, Details, Expect, Limit, Scan, What
from boxlamp.model.levels import DAM, Level
from boxlamp.model.story import Story
from boxlamp.protocol.book import BEGINNING, Book, open_book
from boxlamp.protocol.overrides import loosens, objections
from boxlamp.protocol.own_file import read_own_limits
from boxlamp.protocol.records import ProtocolError
from boxlamp.rules.registry import NEVER_RELAXED
from boxlamp.rules.spell import Spell
from support.made import at, told
from support.nights import DEFAULT

MINUTE = timedelta(minutes=1)
WATERS, PUSHING = ("waters-no-pup", "main"), ("contraction-no-pup", "main")


def limit(rule: str, level: str, minutes: int, clock: str = "main") -> Limit:
    return Limit.model_validate(
        {
            "rule": rule, "clock": clock, "level": level, "seconds": minutes * 60,
            "by": "Dr Novak", "why": "her last whelping",
        }
    )  # fmt: skip


def book_of(*lines: tuple[float, What]) -> Book:
    return open_book(Story(told(*lines)), DEFAULT, NEVER_RELAXED)


def test_without_a_change_there_is_one_page_from_the_beginning() -> None:
    """The protocol as it is."""
    book = book_of((0, Contraction()))
    assert [page.start for page in book.pages] == [BEGINNING]
    assert book.now.spans == DEFAULT.spans
    assert book.now.risks == ()


def test_a_sentence_may_name_where_a_band_begins() -> None:
    """The value of the record of that clock and level, whichever way the band goes."""
    book = book_of()
    assert book.edge("birth-weight", "labrador retriever", Level.WATCH) == 406
    assert book.edge("birth-weight", "labrador retriever", Level.CALL) == 248


def test_a_changed_limit_does_not_reach_back() -> None:
    """Before the change the old limit held, and after it the new one; others are untouched."""
    book = book_of((60, limit("waters-no-pup", "call", 90)))
    before, after = book.pages
    assert after.start == at(60)
    assert before.spans[WATERS][Level.CALL] == 120 * MINUTE
    assert after.spans[WATERS] == {
        Level.WATCH: 60 * MINUTE, Level.CALL: 90 * MINUTE, Level.GO: 240 * MINUTE
    }  # fmt: skip
    assert after.spans[PUSHING] == before.spans[PUSHING]
    assert [(from_, until) for from_, until, _ in book.spans_over(*WATERS)] == [
        (BEGINNING, at(60)), (at(60), None)
    ]  # fmt: skip


def test_the_last_of_several_changes_counts() -> None:
    """A vet may think again."""
    book = book_of(
        (60, limit("waters-no-pup", "call", 90)), (70, limit("waters-no-pup", "call", 150))
    )
    assert book.now.spans[WATERS][Level.CALL] == 150 * MINUTE
    assert [change.entry for change in book.changes] == [1, 2]


def test_a_never_relaxed_rule_refuses_to_be_loosened() -> None:
    """Refused and remembered as refused; sooner is allowed."""
    book = book_of(
        (60, limit("contraction-no-pup", "call", 25)), (61, limit("contraction-no-pup", "go", 20))
    )
    assert [change.refused for change in book.changes] == [True, False]
    assert book.now.spans[PUSHING][Level.CALL] == 20 * MINUTE
    assert book.now.spans[PUSHING][Level.GO] == 20 * MINUTE


def test_a_risk_found_in_the_night_counts_from_then() -> None:
    """At three in the morning the weight becomes known: from three on, and not before."""
    book = book_of((0, Details(dam="Ash")), (60, Details.model_validate({"weight": 4000})))
    before, after = book.pages
    assert (before.risks, after.risks) == ((), ("dam under 5 kg",))
    assert after.start == at(60)
    assert before.spans[PUSHING][Level.WATCH] == 15 * MINUTE
    assert after.spans[PUSHING] == {
        Level.WATCH: 5 * MINUTE, Level.CALL: 15 * MINUTE, Level.GO: 20 * MINUTE
    }  # fmt: skip
    assert after.spans["first-milk", "main"] == before.spans["first-milk", "main"]


def test_a_risk_may_go_again() -> None:
    """An x-ray shows more than the guess: the limits are the usual ones from then on."""
    book = book_of((0, Expect(count=1)), (60, Expect(count=5, method="xray")))
    assert [page.risks for page in book.pages] == [(), ("2 or fewer pups expected",), ()]
    assert book.now.spans == DEFAULT.spans


@pytest.mark.parametrize("method", ["ultrasound", "xray"])
def test_a_scan_that_shows_few_pups_is_a_risk(method: str) -> None:
    """A count by scan or x-ray is as good as one that was typed as expected."""
    few = Scan.model_validate({"method": method, "count": 2})
    assert book_of((0, few)).now.risks == ("2 or fewer pups expected",)


def test_a_second_risk_tightens_no_further() -> None:
    """One factor or five: the limits are tightened once, and both are named."""
    book = book_of((0, Details(toy=True)), (10, Details(earlier_caesarean=True)))
    assert book.now.risks == ("toy breed", "earlier caesarean")
    assert book.pages[1].spans == book.pages[2].spans


def test_a_vets_word_is_not_tightened_by_a_risk() -> None:
    """It was given for this dam, with her risks in view; whichever came first."""
    change, risk = limit("waters-no-pup", "call", 100), Details(toy=True)
    for lines in (((0, change), (10, risk)), ((0, risk), (10, change))):
        spans = book_of(*lines).now.spans[WATERS]
        assert spans[Level.CALL] == 100 * MINUTE
        assert spans[Level.WATCH] == 30 * MINUTE


def test_of_a_never_relaxed_rule_the_sooner_limit_holds() -> None:
    """A vet's word does not keep a risk from tightening it, nor a risk the vet's word."""
    risk = Details(toy=True)
    for minutes, sooner in ((18, 15), (12, 12)):
        change = limit("contraction-no-pup", "call", minutes)
        spans = book_of((0, change), (10, risk)).now.spans[PUSHING]
        assert spans[Level.CALL] == sooner * MINUTE
    assert book_of((0, limit("contraction-no-pup", "call", 18))).now.spans[PUSHING] == {
        Level.WATCH: 15 * MINUTE, Level.CALL: 18 * MINUTE, Level.GO: 30 * MINUTE
    }  # fmt: skip


def test_the_shipped_protocol_is_never_written_on() -> None:
    """A book works on a copy."""
    before = {key: dict(levels) for key, levels in DEFAULT.spans.items()}
    book_of((0, Details(toy=True)), (1, limit("waters-no-pup", "call", 1)))
    assert before == DEFAULT.spans


def test_a_change_in_the_night_has_no_effect_before_it() -> None:
    """Seen through the engine: the alert comes at the moment of the change."""
    story = Story(told((0, Contraction()), (8, limit("contraction-no-pup", "watch", 5))))
    changes = assess(story, DEFAULT).history(at(10))
    raised = [step.at for step in changes if step.rule.id == "contraction-no-pup"]
    assert raised == [at(8)]


def test_loosens() -> None:
    """Later than the protocol, or where the protocol has no level at all."""
    assert loosens(limit("waters-no-pup", "call", 121), DEFAULT.spans)
    assert not loosens(limit("waters-no-pup", "call", 120), DEFAULT.spans)
    assert loosens(limit("foul-discharge", "watch", 0), DEFAULT.spans)


OWN = """
by = "Dr Novak"
why = "her last whelping"
[[limit]]
rule = "waters-no-pup"
level = "call"
value = 1.5
unit = "h"
"""


def test_a_vets_own_file_is_read() -> None:
    """Who, why, and each limit in seconds, ready for the record."""
    (only,) = read_own_limits(OWN).as_entries()
    assert only == limit("waters-no-pup", "call", 90).model_copy(update={"why": only.why})
    assert (only.by, only.why) == ("Dr Novak", "her last whelping")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (OWN.replace('by = "Dr Novak"', ""), "by: "),
        (OWN.replace('"her last whelping"', '""'), "why: "),
        (OWN.replace("value", "valeu"), "limit > 0 > valeu: "),
        (OWN.replace('"h"', '"moons"'), "limit > 0 > unit: "),
        (OWN.replace("1.5", "-1"), "limit > 0 > value: "),
        ('by = "x"\nwhy = "y"\n', "limit: "),
        ("by = ", "not valid TOML"),
        (OWN.replace("1.5", "9000"), "limit > 0: "),
        (OWN.replace("1.5", "9" * 5000), "beyond anything possible"),
        (OWN.replace("1.5", "1e99999999999999999999"), "beyond anything possible"),
        (OWN.replace("1.5", "nan"), "limit > 0 > value: "),
        ("a." * 1000 + "b = 1\n", "nested too deeply"),
        ('"a b" . ' * 1000 + "b = 1\n", "nested too deeply"),
        ("[" + "'a'." * 1000 + "b]\n", "nested too deeply"),
        (OWN.replace("Dr Novak", "x" * 501), "by: "),
        (OWN.replace("her last whelping", "x" * 4001), "why: "),
        (OWN.replace("waters-no-pup", "x" * 501), "limit > 0 > rule: "),
    ],
)
def test_a_vets_own_file_that_cannot_be_used(text: str, said: str) -> None:
    """Each thing that is wrong is a sentence that names it."""
    with pytest.raises(ProtocolError) as caught:
        read_own_limits(text).as_entries()
    assert said in str(caught.value)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (limit("waters-no-pup", "call", 90), ""),
        (limit("contraction-no-pup", "call", 10), "higher level would come before"),
        (limit("contraction-no-pup", "go", 25), ""),
        (limit("contraction-no-pup", "go", 31), "never relaxed; go may only come sooner"),
        (limit("foul-discharge", "watch", 0), "never relaxed"),
        (limit("rest-no-pup", "call", 10), "Change contraction-no-pup instead"),
        (limit("weak-rest-no-pup", "call", 60), "Change weak-contraction-no-pup instead"),
        (limit("litter-short", "call", 60, "calm"), "Change gap-more-expected instead"),
        (limit("waters-no-pup", "call", 10), "higher level would come before"),
        (limit("waters-no-pup", "call", 90, "tide"), "no clock 'tide', only main"),
        (limit("full-moon", "call", 90), "no rule of that name"),
    ],
)
def test_objections(change: Limit, said: str) -> None:
    """One sentence per thing that is wrong, and none when the change may be used."""
    found = objections([change], DEFAULT.spans, NEVER_RELAXED, DEFAULT.following)
    if said:
        assert any(said in line for line in found)
    else:
        assert found == []


def test_changes_are_judged_together() -> None:
    """Watch, call and go moved at once are in order although each alone would not be."""
    moved = [limit("contraction-no-pup", level, 5) for level in ("watch", "call", "go")]
    assert objections(moved, DEFAULT.spans, NEVER_RELAXED, {}) == []
    assert objections(moved[2:], DEFAULT.spans, NEVER_RELAXED, {}) != []


def test_a_level_that_a_vet_adds_below_the_usual_one_is_reached() -> None:
    """Where the protocol has a call alone, a watch of the vet's own comes before it."""
    book = book_of((0, limit("vet-check-due", "watch", 60, "helped")))
    spell = Spell("vet-check-due", DAM, "helped", at(1), at(1), at(240), (1,))
    assert [(one.level, one.start, one.end) for one in standings(spell, book)] == [
        (Level.WATCH, at(61), at(240))
    ]


def test_a_page_that_leaves_a_clock_alone_is_passed_over() -> None:
    """Limits of other clocks changed twice; those of this one hold from the beginning on."""
    book = book_of(
        (60, limit("waters-no-pup", "call", 90)), (70, limit("waters-no-pup", "call", 150))
    )
    assert len(book.pages) == 3
    (only,) = book.spans_over(*PUSHING)
    assert (only.start, only.end, only.limits) == (BEGINNING, None, DEFAULT.spans[PUSHING])


def test_changes_one_after_the_other_are_as_good_as_all_at_once() -> None:
    """Each page is the page before with one change; the risk found between them tightens once."""
    changes = (limit("waters-no-pup", "call", 90), limit("contraction-no-pup", "go", 20))
    first, then = changes
    told_apart = book_of((10, first), (20, Details(toy=True)), (30, then))
    together = book_of((10, Details(toy=True)), (10, first), (10, then))
    assert told_apart.now.spans == together.now.spans
    assert told_apart.now.risks == together.now.risks
