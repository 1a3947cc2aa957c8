"""What a tired person types: it is read when it is sure, and never becomes what was not said."""

from datetime import timedelta
from decimal import Decimal

import pytest

from boxlamp.language import Context, NightError, NotUnderstood, kept_as_note, read_line, read_night
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import (
    Afterbirth,
    Amend,
    Birth,
    Contraction,
    DamState,
    Discharge,
    Finished,
    Part,
    PupState,
    Rest,
    Sac,
    Sexed,
    Step,
    Strike,
    Temperature,
    Treatment,
    VetContact,
    Waters,
    Weight,
    What,
)
from support.happenings import NOW


def dec(text: str) -> Decimal:
    return Decimal(text)


def entries(minutes: tuple[int, ...] = (70, 5)) -> list[Entry]:
    """A red pup and one without a mark or sex, born so many minutes ago."""
    marks = ("red", None, "blue")
    return [
        Draft(at=NOW - timedelta(minutes=ago), what=Birth(pup=n, mark=mark)).numbered(
            n, "night", NOW
        )
        for n, (ago, mark) in enumerate(zip(minutes, marks, strict=False), start=1)
    ]


def box(*minutes: int) -> Context:
    return Context.of(entries(minutes or (70, 5)), NOW, "Europe/Prague")


def what(line: str, context: Context | None = None) -> What:
    return read_line(line, context or box()).draft.what


def codes(line: str, context: Context | None = None) -> list[str]:
    return [doubt.code for doubt in read_line(line, context or box()).doubts]


@pytest.mark.parametrize(
    "line",
    [
        "is it finished", "is she pushing", "has the vet called", "pup?", "finished?", "died 1 ?",
        "was that a pup", "did she push", "does red have milk", "have the waters broken",
        "should I ring the vet", "when is the next pup", "what is green discharge", "c?!",
        "why rest", "how is pup 1", "will she rest", "can she push", "ack?", "amend 1 pup m?",
        "not pushing", "no pup yet", "no more pups", "vet not answering", "no afterbirth",
        "no placenta", "not breathing well?", "never pushed", "died 1 not", "died 1 maybe",
    ],
)  # fmt: skip
def test_questions_and_denials_are_no_events(line: str) -> None:
    """A line that asks, or says what did not happen, stays a note and starts no clock."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, box())
    assert refused.value.why
    assert not refused.value.nearest.startswith(("pup", "died", "ack", "finished", "caesarean"))


def test_a_question_may_stand_in_a_note_or_a_score() -> None:
    """Behind a ``;``, in a note, and for a part of a score not taken, a ``?`` is fine."""
    for line in ("temp 37.1; is that low?", "note is she well?", "score 1 2 2 1 2 ?"):
        assert read_line(line, box()).doubts == ()


def test_no_afterbirth_is_answered_with_its_words() -> None:
    """Whether it was looked for must be said."""
    with pytest.raises(NotUnderstood) as refused:
        read_line("no afterbirth", box())
    assert refused.value.nearest == "afterbirth not seen"


@pytest.mark.parametrize("line", ["girl", "a girl", "it is a girl", "it's a girl", "bitch"])
def test_a_bare_sex_after_a_birth_is_asked_about(line: str) -> None:
    """It may be a new pup or tell of the one that is out."""
    (doubt,) = read_line(line, box()).doubts
    assert doubt.code == "another-pup"
    assert doubt.sentence == "Is this another pup (then Enter, or --yes), or pup 2 again?"
    assert doubt.fix == "Another: `pup 3 bitch`. Pup 2 again: `sex 2 bitch`."


def test_a_bare_sex_is_a_birth_when_nothing_else_can_be_meant() -> None:
    """Where the line before told of no birth, or when it is called a pup, nobody is asked."""
    assert codes("boy", box(70, 16)) == ["another-pup"]
    assert codes("pup dog") == []
    assert codes("pup not breathing") == ["another-pup"]
    assert what("pup not breathing") == Birth(pup=3, state="limp")
    assert codes("pup born limp") == []


@pytest.mark.parametrize(
    ("line", "wall", "wanted"),
    [
        ("pup 10 min ago", "01:04:05", Birth(pup=3)),
        ("born 02:10", "01:10:00", Birth(pup=3)),
        ("pup m red collar at 2:05am", "01:05:00", Birth(pup=3, sex="dog", mark="red collar")),
        ("pup -10m", "01:04:05", Birth(pup=3)),
        ("push 5 min ago", "01:09:05", Contraction()),
        ("push at 02:05", "01:05:00", Contraction()),
        ("push at 0205", "01:05:00", Contraction()),
        ("given calcium at 02:10", "01:10:00", Treatment(what="calcium")),
        ("vet called 10 min ago", "01:04:05", VetContact(contact="called")),
        ("310g 02:10", "01:10:00", Weight(pup=2, grams=dec("310"))),
        ("-12m 2 afterbirths", "01:02:05", Afterbirth(count=2)),
        ("-1m 2 limp", "01:13:05", PupState(pup=2, signs=("limp",))),
        ("-13m 1 weighs 250 grams", "01:01:05", Weight(pup=1, grams=dec("250"))),
        ("-10m 1 milk", "01:04:05", Step(step="milk", pup=1)),
        ("-1h20 rest", "23:54:05", Rest()),
        ("-5 rest", "01:09:05", Rest()),
        ("300 grams red", "01:14:05", Weight(pup=1, grams=dec("300"))),
    ],
)
def test_a_time_is_read_wherever_it_is_sure(line: str, wall: str, wanted: What) -> None:
    """In front or behind; a number apart from it belongs to the words."""
    draft = read_line(line, box()).draft
    assert draft.at.strftime("%H:%M:%S") == wall
    assert draft.what == wanted


@pytest.mark.parametrize(
    "line", ["pup at 3", "pup 10 minutes", "pup 02:10 m red", "push 5 min", "pup some minutes ago",
             "died 1 cold at 02:10", "push 5m", "rest 1h"],
)  # fmt: skip
def test_a_time_that_is_not_sure_is_never_now(line: str) -> None:
    """It is refused, with the place where a time is always read."""
    with pytest.raises(NotUnderstood, match="put the time first"):
        read_line(line, box())


def test_a_time_behind_counts_in_a_night_file() -> None:
    """And the next clock time follows it."""
    night = read_night("date: 2026-03-02\n\n23:50 sac\npush at 00:05\n00:10 rest\n")
    assert [entry.at.strftime("%d %H:%M") for entry in night.entries] == [
        "02 23:50", "03 00:05", "03 00:10"
    ]  # fmt: skip
    with pytest.raises(NightError, match="two times"):
        read_night("date: 2026-03-02\n\n23:50 sac at 23:40\n")


@pytest.mark.parametrize(
    ("line", "nearest"),
    [
        ("blorg", ""), ("finishd", ""), ("caesareen", ""), ("pop", ""), ("deid 1", ""),
        ("baby has no breath", "state N not-breathing"), ("contracton", "contraction"),
        ("i saw a bubble", "sac"), ("somehow bloody", "discharge red"),
        ("erase that", "strike 2 typed by mistake"), ("a pair of feet", "part feet"),
        ("odd smell", "discharge foul"), ("she seems in pain", ""), ("milk 9", "milk N"),
    ],
)  # fmt: skip
def test_a_hint_is_close_or_there_is_none(line: str, nearest: str) -> None:
    """Nobody in a hurry is offered a birth or a death to copy; pups are ones that are there."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, box())
    assert refused.value.nearest == nearest


def test_what_could_not_be_read_started_no_clock() -> None:
    """The person is told so, and where the words are."""
    with pytest.raises(NotUnderstood) as refused:
        read_line("blorg", box())
    assert "could not be read, and it started no clock" in refused.value.why
    assert "boxlamp words" in refused.value.why


def amended() -> Context:
    """A birth with everything said, corrected once in its time and weight; then discharge."""
    known = entries((70,))
    full = Birth(pup=2, sex="dog", weight=dec("300"), mark="blue", state="limp")
    facts: list[tuple[What, int]] = [
        (full, 20),
        (Amend(target=2, retimed=True, what=full.model_copy(update={"weight": dec("310")})), 25),
        (Discharge(colour="green", amount="heavy", foul=True), 4),
        (Temperature(celsius=dec("35.1"), where="pup", pup=2), 3),
    ]
    for number, (fact, ago) in enumerate(facts, start=2):
        at = NOW - timedelta(minutes=ago)
        known.append(Draft(at=at, what=fact).numbered(number, "night", NOW))
    return Context.of(known, NOW, "Europe/Prague")


def test_a_correction_changes_only_what_it_says() -> None:
    """The rest stays as the entry reads now, and so does the time in the echo."""
    heard = read_line("amend 2 pup bitch", amended())
    wanted = Birth(pup=2, sex="bitch", weight=dec("310"), mark="blue", state="limp")
    assert heard.draft.what == Amend(target=2, what=wanted)
    assert "entry 2 now reads: 01:49:05  pup 2 bitch 310g blue limp" in heard.echo
    assert what("amend 3 pup bitch", amended()) == Amend(target=3, what=wanted)
    assert what("amend 4 discharge black", amended()) == Amend(
        target=4, what=Discharge(colour="black", amount="heavy", foul=True)
    )
    assert what("amend 5 temp 36.1", amended()) == Amend(
        target=5, what=Temperature(celsius=dec("36.1"), where="pup", pup=2)
    )


def test_a_birth_is_not_corrected_away() -> None:
    """A weight, sex, mark or limpness corrects the birth; anything else is asked about."""
    assert what("amend 2 310g") == Amend(target=2, what=Birth(pup=2, weight=dec("310")))
    assert what("amend 2 sex 2 dog") == Amend(target=2, what=Birth(pup=2, sex="dog"))
    assert what("amend 2 mark 2 green") == Amend(target=2, what=Birth(pup=2, mark="green"))
    assert what("amend 2 limp") == Amend(target=2, what=Birth(pup=2, state="limp"))
    assert codes("amend 2 rest") == ["no-birth"]


def test_the_same_holds_in_a_night_file() -> None:
    """A line means the same wherever it is written."""
    night = read_night("date: 2026-03-02\n\n02:00 pup m 300g red\n02:10 amend 1 pup f\n")
    assert night.entries[-1].what == Amend(
        target=night.entries[-2].id,
        what=Birth(pup=1, sex="bitch", weight=dec("300"), mark="red"),
    )


def test_a_mark_in_use_is_asked_about() -> None:
    """Wherever it stands in the line of a birth."""
    assert codes("pup red 300g girl") == ["mark-taken"]
    assert codes("pup girl 300g red", box(70, 16)) == ["mark-taken"]


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("limp", PupState(pup=2, signs=("limp",))),
        ("not breathing", PupState(pup=2, signs=("not-breathing",))),
        ("stopped breathing", PupState(pup=2, signs=("not-breathing",))),
        ("crying", PupState(pup=2, signs=("crying",))),
        ("breathing", Step(step="breathing", pup=2)),
        ("breathing now", Step(step="breathing", pup=2)),
        ("she's breathing", Step(step="breathing", pup=2)),
        ("milk", Step(step="milk", pup=2)),
        ("dried", Step(step="dried", pup=2)),
        ("airway", Step(step="airway", pup=2)),
        ("cord bleeding", Step(step="cord", pup=2, finding="bleeding")),
        ("cord tied", Step(step="cord", pup=2, finding="tied")),
        ("310g", Weight(pup=2, grams=dec("310"))),
        ("weighs 310g", Weight(pup=2, grams=dec("310"))),
    ],
)
def test_a_pup_just_born_need_not_be_named(line: str, wanted: What) -> None:
    """While no other is as young, and the echo says which was meant."""
    heard = read_line(line, box(70, 5))
    assert heard.draft.what == wanted
    assert "taken as pup 2, the newest" in heard.echo
    for several in (box(12, 8, 3), box(70, 40)):
        with pytest.raises(NotUnderstood, match="Which pup"):
            read_line(line, several)


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("red is 310g", Weight(pup=1, grams=dec("310"))),
        ("red 310g", Weight(pup=1, grams=dec("310"))),
        ("pup 1 310g", Weight(pup=1, grams=dec("310"))),
        ("pup 1 is a boy", Sexed(pup=1, sex="dog")),
        ("red pup limp", PupState(pup=1, signs=("limp",))),
        ("2 limp", PupState(pup=2, signs=("limp",))),
        ("pup 2 not moving", PupState(pup=2, signs=("limp",))),
        ("red isn't moving", PupState(pup=1, signs=("limp",))),
        ("milk for red", Step(step="milk", pup=1)),
        ("red drinking", Step(step="milk", pup=1)),
        ("strike last", Strike(target=2)),
        ("remove last typed twice", Strike(target=2, why="typed twice")),
        ("strike pup 1", Strike(target=1)),
        ("delete 1", Strike(target=1)),
        ("amend last 02:00", Amend(target=2, retimed=True)),
        ("vet on the way", VetContact(contact="called", said="on the way")),
        ("vet coming", VetContact(contact="called", said="coming")),
        ("going to the vet", VetContact(contact="left-for")),
        ("at the vets", VetContact(contact="arrived")),
        ("another pup", Birth(pup=3)),
        ("third pup born", Birth(pup=3)),
        ("pup hind feet first", Birth(pup=3, presentation="feet")),
        ("head is out", Part(part="head")),
        ("I can see a foot", Part(part="feet")),
        ("i can see a bubble", Sac()),
        ("head stuck", Part(part="head")),
        ("her waters have broken", Waters()),
        ("clear fluid came out", Waters(colour="clear")),
        ("she's pushing again", Contraction()),
        ("big push", Contraction(strength="strong")),
        ("little push", Contraction(strength="weak")),
        ("contractions started", Contraction()),
        ("pushing has stopped", Rest()),
        ("she has stopped", Rest()),
        ("some blood", Discharge(colour="red")),
        ("a lot of blood", Discharge(colour="red", amount="heavy")),
        ("bleeding a lot", Discharge(colour="red", amount="heavy")),
        ("some green stuff", Discharge(colour="green")),
        ("dark green fluid", Discharge(colour="green")),
        ("smelly discharge", Discharge(foul=True)),
        ("she is shaking", DamState(signs=("trembling",))),
        ("exhausted", DamState(signs=("dull",))),
        ("having a fit", DamState(signs=("fits",))),
        ("she can't stand up", DamState(signs=("cannot-stand",))),
        ("sick once", DamState(signs=("vomited",))),
        ("wont eat", DamState(signs=("refused-food",))),
        ("afterbirth for pup 2", Afterbirth(of=2)),
        ("afterbirth red", Afterbirth(of=1)),
        ("she ate the placenta", Afterbirth(fate="eaten")),
        ("2 placentas", Afterbirth(count=2)),
        ("37.2", Temperature(celsius=dec("37.2"))),
        ("36.8c", Temperature(celsius=dec("36.8"))),
        ("temp 36.8c", Temperature(celsius=dec("36.8"))),
    ],
)
def test_everyday_words_are_read(line: str, wanted: What) -> None:
    """As a person says it, when only one thing can be meant."""
    heard = read_line(line, box())
    assert heard.draft.what == wanted
    assert heard.doubts == ()


@pytest.mark.parametrize("line", ["done", "that's all", "all done"])
def test_the_end_is_asked_about(line: str) -> None:
    """Words that may only mean that a job is done do not end the whelping unasked."""
    (doubt,) = read_line(line, box()).doubts
    assert doubt.code == "finished"
    assert what(line) == Finished()


def test_tail_first_is_asked_about() -> None:
    """Whether the legs are folded under matters, and the tail does not say."""
    assert codes("pup tail first") == ["tail-first"]


@pytest.mark.parametrize("line", ["ok", "oops", "mistake", "cancel", "feet first", "asleep",
                                  "next pup coming"])  # fmt: skip
def test_what_is_no_event_is_refused(line: str) -> None:
    """Slips, and words that mean two things, write nothing down."""
    with pytest.raises(NotUnderstood):
        read_line(line, box())


def test_a_slip_is_told_how_to_take_back() -> None:
    """The last entry is named."""
    with pytest.raises(NotUnderstood) as refused:
        read_line("oops", box())
    assert refused.value.nearest == "strike 2 typed by mistake"


def test_a_first_weight_is_checked_like_a_birth_weight() -> None:
    """In the first day only: later a pup may weigh anything."""
    assert codes("weigh 1 31g") == ["implausible"]
    assert codes("weigh 1 3100g") == ["implausible"]
    assert codes("weigh 1 310g") == []
    assert codes("weigh 1 3100g", box(3 * 24 * 60)) == []


@pytest.mark.parametrize(
    "line",
    ["0001-01-01T00:00+05:00 waters", "9999-12-31T23:59-05:00 waters", "-1d 9999-12-31 rest",
     "mated 0001-01-01T00:00+23:00"],
)  # fmt: skip
def test_the_ends_of_the_calendar_have_a_sentence(line: str) -> None:
    """And such a line is still kept."""
    with pytest.raises(NotUnderstood):
        read_line(line, box())
    assert kept_as_note(line, box()).text == line


@pytest.mark.parametrize(
    ("line", "nearest"),
    [
        ("mated 23/9/2026", "mated 2026-09-23"),
        ("mated 23.9.2026", "mated 2026-09-23"),
        ("23/9/2026 mated", "2026-09-23 mated"),
        ("mated 9/10/2025", "mated 2025-10-09 or mated 2025-09-10"),
        ("mated 31 Feb 2026", "mated YYYY-MM-DD"),
        ("mated 41/41/2026", "mated YYYY-MM-DD"),
    ],
)
def test_the_order_of_day_and_month_is_never_guessed(line: str, nearest: str) -> None:
    """Figures are refused with the exact line."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, box())
    assert refused.value.nearest == nearest


@pytest.mark.parametrize(
    ("line", "day"),
    [("mated 23 September 2025", "2025-09-23"), ("mated 24 Sep", "2025-09-24"),
     ("mated Jan 2nd", "2026-01-02"), ("2 Jan 2026 mated", "2026-01-02")],
)  # fmt: skip
def test_a_month_by_its_name_is_read(line: str, day: str) -> None:
    """It can mean only one day; without a year, the latest that has come."""
    assert read_line(line, box()).draft.at.strftime("%Y-%m-%d") == day
