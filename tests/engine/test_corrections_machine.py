"""Any chain of corrections: what stands is what a plain dictionary says, and nothing is hidden."""

from datetime import datetime, timedelta

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import invariant, precondition, rule

from boxlamp.engine import Assessment, assess, history_as_known
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Amend, Birth, Round, Step, Strike, What
from boxlamp.model.order import corrected
from boxlamp.model.story import Story, as_known
from boxlamp.model.zones import zone_named
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.timeline import timeline_of
from boxlamp.view.board import board
from boxlamp.view.layout import fitted
from support.accounts import CHAIN
from support.effort import effort
from support.machines import CountedMachine, say_figures
from support.made import FACTS, TWO
from support.nights import DEFAULT, SECOND
from support.standing import Standing, Told, marks_of

ZONE = zone_named("UTC")
MARKS = st.sampled_from(["red", "blue", "light green", "one ear white"])
PUPS = st.integers(1, 4)
WEIGHTS = [[{"pup": 1, "grams": "310"}, {"pup": 2, "grams": "298"}], [{"pup": 4, "grams": "1"}]]
SAID: st.SearchStrategy[What] = st.one_of(
    FACTS,
    st.builds(Birth, pup=PUPS, mark=st.none() | MARKS),
    st.builds(Step, pup=PUPS, step=st.just("marked"), finding=MARKS),
    st.sampled_from(WEIGHTS).map(lambda row: Round.model_validate({"weights": row})),
)
AWAY = st.sampled_from([0, 0, 0, -60, -1, -59 * 60, -26 * 3600, 90, 7200])
"""How far from the moment of typing a line says it happened, in seconds."""


def as_told(birth: What, stands: dict[int, Told]) -> tuple[What, ...]:
    """A birth as a story may tell it: a pup born dead that breathes after all was limp."""
    if not isinstance(birth, Birth) or birth.state != "dead":
        return (birth,)
    breathes = any(
        isinstance(what, Step) and (what.step, what.pup) == ("breathing", birth.pup)
        for _, what in stands.values()
    )
    return (birth, birth.model_copy(update={"state": "limp"})) if breathes else (birth,)


class Corrections(CountedMachine):
    """A record that grows by lines and corrections, beside what should stand."""

    def __init__(self) -> None:
        super().__init__()
        self.now = TWO
        self.entries: list[Entry] = []
        self.model = Standing()
        self.then: dict[datetime, dict[int, Told]] = {}
        self.seen: list[tuple[datetime, list[tuple[object, ...]]]] = []

    def type(self, what: What, away: int) -> None:
        """The next line, typed now, about some other moment perhaps."""
        draft = Draft.model_validate(
            {"at": self.now + timedelta(seconds=away), "what": what, "text": f"line {self.now}"}
        )
        entry = draft.numbered(len(self.entries) + 1, "ash", self.now)
        self.entries.append(entry)
        self.model.type(entry)
        self.then[self.now] = self.model.now()

    @rule(what=SAID, away=AWAY)
    def say(self, what: What, away: int) -> None:
        """Something happened."""
        self.type(what, away)

    @rule(data=st.data(), what=st.none() | SAID, away=AWAY, retimed=st.booleans())
    def amend(self, data: st.DataObject, what: What | None, away: int, retimed: bool) -> None:  # noqa: FBT001
        """Any line is corrected: a fact, a correction, one that is struck, one not yet there."""
        target = data.draw(self.any_number())
        self.type(Amend.model_validate({"target": target, "what": what, "retimed": retimed}), away)

    @rule(data=st.data(), away=AWAY)
    def strike(self, data: st.DataObject, away: int) -> None:
        """Any line is withdrawn: a fact, a correction, another strike, one not yet there."""
        self.type(Strike(target=data.draw(self.any_number())), away)

    def any_number(self) -> st.SearchStrategy[int]:
        """A line's number; the latest ones more often, and now and then one too far."""
        last = len(self.entries)
        return st.integers(1, last + 2) | st.integers(max(1, last - 2), max(1, last))

    @rule(seconds=st.sampled_from([1, 30, 60, 900, 7200, 90_000]))
    def wait(self, seconds: int) -> None:
        """Time goes by."""
        self.now += timedelta(seconds=seconds)

    @precondition(lambda self: self.entries and self.now > self.entries[-1].recorded)
    @rule()
    def look_back(self) -> None:
        """Remember how the past reads as it was known, to see that nothing rewrites it."""
        until = self.now - SECOND
        self.seen.append((until, self.past(until)))

    def past(self, until: datetime) -> list[tuple[object, ...]]:
        """What the screen has shown, second by second."""
        return [
            (step.at, step.rule.id, step.subject, step.level, step.change, step.entries)
            for step in history_as_known(self.entries, DEFAULT, until)
        ]

    def judged(self) -> Assessment:
        """What the rules make of it now."""
        return assess(Story(self.entries), DEFAULT)

    @invariant()
    def the_record_reads_as_the_dictionary_says(self) -> None:
        """Each line that stands, with its last time and its last words, in order of time."""
        reads = corrected(self.entries)
        assert {entry.id: (entry.at, entry.what) for entry in reads} == self.model.now()
        assert [entry.at for entry in reads] == sorted(entry.at for entry in reads)
        for entry in reads:
            typed = self.entries[entry.id - 1]
            assert (entry.recorded, entry.text) == (typed.recorded, typed.text)

    @precondition(lambda self: self.then)
    @invariant()
    def what_was_known_then_stays(self) -> None:
        """At the moment of any earlier line the record reads as it did then."""
        moments = sorted(self.then)
        for moment in {moments[0], moments[len(moments) // 2], moments[-1]}:
            known = as_known(self.entries, moment).entries
            happened = {n: told for n, told in self.then[moment].items() if told[0] <= moment}
            assert {entry.id for entry in known} == happened.keys()

    @precondition(lambda self: self.entries)
    @invariant()
    def nothing_dangles_and_nothing_crashes(self) -> None:
        """Clocks and pups rest on lines that stand; the board can be drawn."""
        assessment, stands = self.judged(), self.model.now()
        assert all(spell.clock != "failure" for spell in assessment.spells)
        for spell in assessment.spells:
            assert stands.keys() >= {*spell.opened, *spell.closed}
        verdict = assessment.verdict(self.now)
        litter = verdict.litter
        assert {number: pup.mark for number, pup in litter.pups.items()} == marks_of(stands)
        assert litter.ledger.debts.keys() == litter.pups.keys()
        for debt in litter.ledger.debts.values():
            assert debt.birth.what in as_told(stands[debt.birth.id][1], stands)
            assert debt.settled is None or debt.settled.id in stands
        for line in fitted(board(verdict, self.entries, ZONE), 80, 24):
            assert all("{" not in text for _, text in line)

    @precondition(lambda self: self.entries)
    @invariant()
    def every_line_stays_visible(self) -> None:
        """On paper each typed line once, beside how it reads; on the board what became of it."""
        assessment = self.judged()
        verdict = assessment.verdict(self.now)
        lines = timeline_of(
            Matter("ash", "UTC", tuple(self.entries), assessment, verdict, CHAIN, 1)
        )
        typed = [
            entry for one in lines for entry in (one.typed, *(c.entry for c in one.corrections))
        ]
        assert sorted(typed, key=lambda entry: entry.id) == self.entries
        stands = self.model.now()
        for one in lines:
            if one.typed.id in self.model.facts:
                read = None if one.reads is None else (one.reads.at, one.reads.what)
                assert read == stands.get(one.typed.id)
        shown = board(verdict, self.entries, ZONE, latest=len(self.entries)).entries
        assert [line.number for line in shown] == [entry.id for entry in self.entries]
        assert {line.number for line in shown if "struck" in line.remark} == self.model.silent
        amended = {line.number for line in shown if "amended" in line.remark}
        assert amended >= self.model.corrected()

    def teardown(self) -> None:
        """Whatever was typed since, the past as it was known reads as it did."""
        for until, past in self.seen[:1]:
            assert self.past(until) == past


TestCorrections = Corrections.TestCase
TestCorrections.settings = settings(
    max_examples=effort(30, nightly=400), stateful_step_count=effort(20, nightly=40), deadline=None
)


def teardown_module() -> None:
    """Say how much was tried."""
    say_figures(Corrections)
