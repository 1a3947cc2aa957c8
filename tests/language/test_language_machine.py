"""A litter built up line by line: what is read is what was meant, and what is said reads back."""

from collections.abc import Callable
from copy import deepcopy
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    initialize,
    invariant,
    precondition,
    rule,
)

from boxlamp.language import (
    VOCABULARY,
    Context,
    NotUnderstood,
    read_line,
    read_night,
    say,
    write_night,
)
from boxlamp.language.line import kept_as_note
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Birth, Contraction, Note, Rest, Strike, What
from boxlamp.model.litter import fold
from boxlamp.model.story import Story
from support.effort import effort
from support.lines import MARKS, OF_THE_DAM, Line, Names, births, namings, of_a_pup, rounds
from support.machines import CountedMachine, say_figures
from support.standing import Standing, Told, marks_of
from support.whens import When, comes_once, whens

PRAGUE = ZoneInfo("Europe/Prague")
NIGHTS = st.sampled_from(
    [
        datetime(2026, 3, 1, 22, 50, 5, tzinfo=UTC),  # midnight comes
        datetime(2026, 3, 29, 0, 10, 40, tzinfo=UTC),  # an hour is skipped
        datetime(2026, 10, 25, 0, 20, tzinfo=UTC),  # an hour comes twice
        datetime(2026, 6, 1, 12, 0, 59, tzinfo=UTC),
    ]
)
BACK = st.sampled_from([0, 0, 0, 1, 1, 30, 60, 5, 20, 95, 600]).map(lambda n: timedelta(minutes=n))
ODD = st.sampled_from([0, 0, 0, 7]).map(lambda seconds: timedelta(seconds=seconds))

SPELLINGS = [
    (example, f"{synonym}{example.removeprefix(word.word)}")
    for word in VOCABULARY
    for example in word.examples
    if f"{example} ".startswith(f"{word.word} ")
    for synonym in word.synonyms
]
"""The examples of every word, each beside itself with another word for it."""

Pups = Callable[[Names], st.SearchStrategy[Line]]


class Growing(CountedMachine):
    """A record of typed lines, beside what each should mean and what should stand."""

    @initialize(now=NIGHTS)
    def begin(self, now: datetime) -> None:
        """The night begins."""
        self.now = now
        self.entries: list[Entry] = []
        self.plain: list[str] = []
        self.model = Standing()

    def context(self) -> Context:
        """What the next line may refer to."""
        return Context.of(self.entries, self.now, "Europe/Prague")

    def names(self) -> dict[int, str | None]:
        """The pups and their marks, as the model has them."""
        return marks_of(self.model.now())

    def keep(self, entry: Entry, words: str, said: datetime) -> None:
        """The next line is written down; a night file would have it with its whole time."""
        self.entries.append(entry)
        self.plain.append(f"{said.astimezone(PRAGUE).isoformat()} {words}")
        self.model.type(entry)

    def hear(self, line: Line, when: When, at: datetime | None = None) -> None:
        """A line means what it should, at the time it should; a question is answered with yes."""
        draft = read_line(when.line(line.words), self.context()).draft
        assert (draft.what, draft.at) == (line.what, at or when.at)
        self.keep(draft.numbered(len(self.entries) + 1, "night", self.now), line.words, when.at)

    def when(self, data: st.DataObject, *, timed: bool = True) -> When:
        """A moment up to ten hours ago, said in any way."""
        at = self.now - data.draw(BACK) - data.draw(ODD)
        forms = [one for one in whens(at, self.now, PRAGUE) if timed or not one.behind]
        return data.draw(st.sampled_from(forms))

    # Lines

    @rule(line=st.sampled_from(OF_THE_DAM), data=st.data())
    def see(self, line: Line, data: st.DataObject) -> None:
        """Something is seen of the dam."""
        self.hear(line, self.when(data, timed=line.timed))

    @precondition(lambda self: len(self.names()) < 12)
    @rule(data=st.data())
    def birth(self, data: st.DataObject) -> None:
        """A pup is born."""
        line = data.draw(births(max(self.names(), default=0) + 1))
        self.hear(line, self.when(data))

    @precondition(lambda self: self.names())
    @rule(data=st.data(), kind=st.sampled_from([of_a_pup, of_a_pup, namings, rounds]))
    def tell_of_pups(self, data: st.DataObject, kind: Pups) -> None:
        """Something is seen of pups, called by number, mark, or a start of it."""
        line = data.draw(kind(self.names()))
        self.hear(line, self.when(data, timed=line.timed))

    @rule(line=st.sampled_from(SPELLINGS))
    def say_it_in_another_word(self, line: tuple[str, str]) -> None:
        """Whoever uses another word for it means the same, or is refused as well."""
        assert self.meaning(line[0]) == self.meaning(line[1])

    def meaning(self, line: str) -> What | None:
        """What a line means now, if it can be read."""
        try:
            return read_line(line, self.context()).draft.what
        except NotUnderstood:
            return None

    @rule(words=st.text(max_size=12))
    def mutter(self, words: str) -> None:
        """A line that cannot be read is kept as a note."""
        line = f"zzz {words}"
        try:
            read_line(line, self.context())
        except NotUnderstood:
            entry = kept_as_note(line, self.context()).numbered(
                len(self.entries) + 1, "night", self.now
            )
            assert isinstance(entry.what, Note)
            self.keep(entry, say(entry.what), self.now)

    @rule(minutes=st.sampled_from([0, 1, 4, 15, 40]), seconds=st.integers(0, 59))
    def wait(self, minutes: int, seconds: int) -> None:
        """Time goes by."""
        self.now += timedelta(minutes=minutes, seconds=seconds)

    # Corrections

    def a_fact(self, data: st.DataObject) -> tuple[int, int, Told]:
        """A line that stands: its number, a number that leads to it, and how it now reads."""
        number = data.draw(st.sampled_from(sorted(self.model.now())))
        ways = [one for one in range(1, len(self.entries) + 1) if self.model.home(one) == number]
        return number, data.draw(st.sampled_from(ways)), self.model.now()[number]

    @precondition(lambda self: self.model.now())
    @rule(data=st.data(), hours=st.integers(-300, 300))
    def amend_the_time(self, data: st.DataObject, hours: int) -> None:
        """A line gets another time: a clock time is the one nearest to its old time."""
        _, way, (old, _) = self.a_fact(data)
        new = min(old + timedelta(minutes=hours), self.now).replace(second=0)
        wall = new.astimezone(PRAGUE)
        forms = [wall.isoformat(), f"{wall:%Y-%m-%d %H:%M}", f"{wall:%H:%M}"]
        said = data.draw(st.sampled_from(forms if comes_once(new, PRAGUE) else forms[:1]))
        line = Line(f"amend {way} {said}", Amend(target=way, retimed=True))
        self.hear(line, When("", self.now), new)

    @precondition(lambda self: self.model.now())
    @rule(data=st.data())
    def amend_time_at_the_front(self, data: st.DataObject) -> None:
        """``amend N time`` takes the time of the line itself."""
        _, way, _ = self.a_fact(data)
        when = self.when(data, timed=False)
        self.hear(Line(f"amend {way} time", Amend(target=way, retimed=True)), when)

    @precondition(lambda self: self.model.now())
    @rule(data=st.data())
    def amend_the_words(self, data: st.DataObject) -> None:
        """A line gets other words. Of a birth a part may be said, and the rest stays."""
        _, way, (_, old) = self.a_fact(data)
        options: list[tuple[str, What]] = [
            ("rest", Rest()),
            ("contraction weak", Contraction(strength="weak")),
        ]
        if isinstance(old, Birth):
            mark = data.draw(st.sampled_from(MARKS))
            for words, changes in (
                ("320g", {"weight": Decimal(320)}),
                (f"weigh {old.pup} 301g", {"weight": Decimal(301)}),
                (f"sex {old.pup} dog", {"sex": "dog"}),
                (f"mark {old.pup} {mark}", {"mark": mark}),
                (f"limp {old.pup}", {"state": "limp"}),
                ("pup bitch in sac", {"sex": "bitch", "in_sac": True}),
            ):
                options += [(words, old.model_copy(update=changes))] * 2
        words, what = data.draw(st.sampled_from(options))
        line = Line(f"amend {way} {words}", Amend.model_validate({"target": way, "what": what}))
        self.hear(line, When("", self.now))

    @precondition(lambda self: self.entries)
    @rule(data=st.data(), why=st.sampled_from(["", "typed twice", "3", "by mistake"]))
    def strike(self, data: st.DataObject, why: str) -> None:
        """Any line is withdrawn, a correction too."""
        number = data.draw(st.integers(1, len(self.entries)))
        typed = f'"{why}"' if why.isdigit() else why  # bare it would be another entry
        line = Line(f"strike {number} {typed}".strip(), Strike(target=number, why=why))
        if self.brings_a_number_twice(line.what):
            with pytest.raises(NotUnderstood, match="Write it down anew"):
                read_line(line.words, self.context())
        else:
            self.hear(line, When("", self.now))

    def brings_a_number_twice(self, strike: What) -> bool:
        """Whether two births would have one number once this is struck."""
        model = deepcopy(self.model)
        model.type(
            self.entries[-1].model_copy(update={"id": len(self.entries) + 1, "what": strike})
        )
        pups = [what.pup for _, what in model.now().values() if isinstance(what, Birth)]
        return len(pups) > len(set(pups))

    @precondition(lambda self: self.model.now())
    @rule()
    def strike_last(self) -> None:
        """The line written down last that still counts."""
        line = Line("strike last", Strike(target=max(self.model.now())))
        self.hear(line, When("", self.now))

    # What must hold

    @precondition(lambda self: self.entries)
    @invariant()
    def what_is_said_reads_back(self) -> None:
        """The newest entry, said in the words of the log where it stands, means the same again."""
        entry = self.entries[-1]
        before = Context.of(self.entries[:-1], entry.recorded, "Europe/Prague")
        time, words = entry.at.isoformat(), say(entry.what)
        note = f"; {entry.note}" if entry.note else ""
        line = f"{time} {words}{note}"
        if isinstance(entry.what, Amend) and entry.what.retimed:
            line = words.replace(" time", f" {time}", 1)
        draft = read_line(line, before).draft
        assert (draft.what, draft.at) == (_read(entry.what), entry.at)

    @invariant()
    def what_is_said_with_names_reads_back(self) -> None:
        """With pups called as they are called now, whatever they were called then."""
        context = self.context()
        for entry in self.entries:
            pup = getattr(entry.what, "pup", None)
            if pup in context.litter.pups and not isinstance(entry.what, Birth):
                line = say(entry.what, context.litter)
                assert read_line(line, context).draft.what == entry.what

    @invariant()
    def the_night_log_is_the_record(self) -> None:
        """Written out and read again it is the same, entry for entry."""
        assert read_night(write_night(self.entries)).entries == tuple(self.entries)

    @precondition(lambda self: self.entries)
    @invariant()
    def a_file_typed_by_hand_tells_the_same_story(self) -> None:
        """The same words in a plain night file mean the same as at the console."""
        file = "\n".join(("", *self.plain, ""))
        night = read_night(file, zone="Europe/Prague")
        told = [(entry.id, entry.at, entry.what) for entry in Story(night.entries).entries]
        for_us = [(entry.id, entry.at, _read(entry.what)) for entry in Story(self.entries).entries]
        assert told == for_us

    @invariant()
    def the_litter_is_what_the_model_says(self) -> None:
        """Every birth that stands is a pup of its own, with the mark it has now."""
        litter = fold(Story(self.entries))
        assert {number: pup.mark for number, pup in litter.pups.items()} == self.names()
        births = [what for _, what in self.model.now().values() if isinstance(what, Birth)]
        assert len(births) == litter.born


def _read(what: What) -> What:
    """A note that could not be read comes back from a file as one that was meant."""
    return Note(words=what.words) if isinstance(what, Note) else what


TestGrowing = Growing.TestCase
TestGrowing.settings = settings(
    max_examples=effort(20, nightly=300), stateful_step_count=effort(15, nightly=30), deadline=None
)


def teardown_module() -> None:
    """Say how much was tried."""
    say_figures(Growing)
