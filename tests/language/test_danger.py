"""What a frightened person types is read, or the answer says what to type for the danger."""

from dataclasses import replace
from datetime import timedelta

import pytest

from boxlamp.language import Context, NotUnderstood, if_meant, read_line
from boxlamp.language.several import heard
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import (
    Birth,
    Contraction,
    DamState,
    Death,
    Details,
    Discharge,
    Part,
    PupState,
    Temperature,
    VetContact,
    Waters,
    Weight,
    What,
)
from boxlamp.model.litter import Litter
from boxlamp.model.seen import PupSign
from support.happenings import NOW

NEARLY = ("green", "yellow", None, "red tail")


def box(*marks: str | None) -> Context:
    """A litter with these pups, born one minute after the other, the last an hour ago."""
    first = NOW - timedelta(minutes=60 + len(marks))
    return Context.of(
        [
            Draft(at=first + timedelta(minutes=place), what=Birth(pup=place, mark=mark)).numbered(
                place, "night", NOW
            )
            for place, mark in enumerate(marks, start=1)
        ],
        NOW,
        "Europe/Prague",
    )


def what(line: str, *marks: str | None) -> What:
    return read_line(line, box(*marks)).draft.what


def refused(line: str, *marks: str | None) -> NotUnderstood:
    with pytest.raises(NotUnderstood) as found:
        read_line(line, box(*marks))
    return found.value


@pytest.mark.parametrize(
    ("line", "colour"),
    [
        ("green stuff on the towel", "green"), ("greenish discharge", "green"),
        ("green at the vulva", "green"), ("there is something green on the bedding", "green"),
        ("some green goo coming out", "green"), ("dark green at her vulva", "green"),
        ("green fluid on towel", "green"), ("something green", "green"),
        ("i saw a green stain on the sheet", "green"), ("she had a gush of green", "green"),
        ("blackish discharge", "black"), ("black stuff under her", "black"),
        ("dark discharge", "black"), ("dark fluid", "black"), ("blood on the towel", "red"),
        ("dark red blood", "red"),
        ("red stuff on bedding", "red"), ("pus at the vulva", "pus"),
        ("discharge looks green", "green"), ("her discharge is dark green", "green"),
    ],
)  # fmt: skip
def test_a_colour_in_ordinary_words_is_a_discharge(line: str, colour: str) -> None:
    """Before the first pup each is read, so that its clock runs."""
    found = what(line)

    assert isinstance(found, Discharge)
    assert found.colour == colour


def test_what_else_is_said_of_it_is_kept() -> None:
    """The amount and the smell are read beside the colour."""
    assert what("lots of smelly green stuff on the towel") == Discharge(
        colour="green", amount="heavy", foul=True
    )
    assert what("clear fluid on the towel") == Waters(colour="clear")


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("green 340g", Weight), ("green won't suck", PupState), ("green wont suck", PupState),
        ("green cold", PupState), ("green stuff on the towel", Discharge),
        ("yellow wont suck", PupState), ("pup red", Birth),
    ],
)  # fmt: skip
def test_a_mark_stays_a_mark(line: str, found: type[What]) -> None:
    """With a pup marked green the word is the pup, unless it is plainly stuff."""
    assert isinstance(what(line, *NEARLY), found)


@pytest.mark.parametrize(
    "line",
    ["green on the towel", "green there", "black tail", "red bottom", "no green stuff",
     "is there green stuff?", "green stuff in her milk"],
)  # fmt: skip
def test_what_is_not_surely_from_her_is_not_read(line: str) -> None:
    """A pup that lies there, a part of a pup, a denial and a question are no discharge."""
    refused(line, *NEARLY)


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("something dark at vulva", "discharge black"), ("green", "discharge green"),
        ("is it green?", "discharge green"), ("blood in the milk", "discharge red heavy"),
        ("there is a bad smell", "discharge foul"), ("stuck", "part head"),
        ("she seems stiff somehow", "dam stiff"), ("i think she had fits twice", "dam fits"),
        ("baby not breathing", "pup limp"), ("one dead", "pup dead"),
        ("gone all blue", "pup limp"), ("19:40 black i think", "19:40 discharge black"),
    ],
)  # fmt: skip
def test_a_danger_that_is_not_read_says_what_to_type(line: str, typed: str) -> None:
    """Each line that is offered can be typed as it stands."""
    refused(line)
    sentences = if_meant(line, box())

    assert any(sentence.endswith(f": {typed}") for sentence in sentences)
    for sentence in sentences:
        read_line(sentence.rsplit(": ", 1)[1], box())


def test_a_danger_of_a_pup_names_the_pup() -> None:
    """Nobody was named, so nobody is: the number is left open."""
    [sentence] = if_meant("one is lifeless i think", box(*NEARLY))

    assert sentence == "If a pup is limp (N: its number), type: state N limp"


@pytest.mark.parametrize(
    ("line", "pup"), [("limp pup 1", 1), ("limp pup two", 2), ("yellow is limp and cold help", 2)]
)
def test_a_danger_is_told_of_the_pup_that_was_named(line: str, pup: int) -> None:
    """The number or the mark that stands anywhere in the line is the one in the line to type."""
    [sentence] = if_meant(line, box(*NEARLY))

    assert sentence.endswith(f"type: state {pup} limp")


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("pup 2 is cold and 1 is warm", ["state 2 cold"]), ("1 alive, 2 dead", ["died 2"]),
        ("1 and 2 limp or so, 3 ok", ["state 1 limp", "state 2 limp"]),
        ("1 is breathing but 2 not breathing", ["state 2 not-breathing"]),
        ("limp 1, 2 and 3 i think", ["state 1 limp", "state 2 limp", "state 3 limp"]),
        ("1 limp i think, 2 and 3 dead i think", ["state 1 limp", "died 2", "died 3"]),
        ("1 ok i think, limp and cold", ["state 1 limp"]),
        ("limp: 1, 3 and pup 2 ok i think", ["state 1 limp", "state 3 limp"]),
    ],
)  # fmt: skip
def test_a_danger_is_told_of_those_it_may_be_said_of(line: str, typed: list[str]) -> None:
    """Who is well in a part of its own is not called ill; a bare name may go with either."""
    refused(line, *NEARLY)
    assert [one.rsplit(": ", 1)[1] for one in if_meant(line, box(*NEARLY))] == typed


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("02:10 pup 2 not breathing at all oh no", "02:10 state 2 not-breathing"),
        ("~0210 pup 2 seems floppy maybe", "~0210 state 2 limp"),
        ("pup 2 looks blue to me since 02:10", "02:10 state 2 blue"),
        ("10 min ago pup 2 looks blue to me", "10 min ago state 2 blue"),
        ("yesterday pup 2 looked limp or so", "yesterday HH:MM state 2 limp"),
        ("yesterday pup 2 was dead or so", "yesterday died 2"),
        ("2-10 pup 2 looks floppy maybe", "HH:MM state 2 limp"),
        ("02:10 green stuff i think", "02:10 discharge green"),
    ],
)
def test_the_line_for_a_danger_keeps_the_time(line: str, typed: str) -> None:
    """Without it a clock would start too late; a day alone leaves the clock time open."""
    [sentence, *_] = if_meant(line, box(*NEARLY))

    assert sentence.rsplit(" type: ", 1)[1] == typed
    if "HH:MM" not in typed:
        assert read_line(typed, box(*NEARLY)).draft.at < NOW.replace(second=0, microsecond=0)


@pytest.mark.parametrize(
    ("line", "colour"),
    [
        ("theres green stuff coming", "green"), ("green stuff", "green"), ("black goo", "black"),
        ("shes leaking green", "green"), ("leaking black", "black"), ("dripping blood", "red"),
        ("theres blood", "red"), ("i see shes leaking green", "green"),
    ],
)  # fmt: skip
def test_what_leaks_or_is_there_is_discharge(line: str, colour: str) -> None:
    """However it is spelt in a hurry."""
    assert what(line) == Discharge.model_validate({"colour": colour})


def test_what_leaks_in_the_colour_of_a_pup_is_a_danger() -> None:
    """It may be that pup, so it is not read; it may be her, so it is answered."""
    for line in ("shes leaking green", "green is leaking"):
        refused(line, *NEARLY)
        assert if_meant(line, box(*NEARLY)) == ("If a discharge is green, type: discharge green",)
    for line in ("leaking clear", "leaking milk"):
        refused(line)


@pytest.mark.parametrize(
    "line",
    ["no green", "green ate", "weigh black 300g", "hello there", "not stuck", "milk blue", ""],
)
def test_no_alarm_where_no_danger_is_spoken_of(line: str) -> None:
    """A denial, a pup's mark, a line about a weight: nothing is put into anybody's mouth."""
    assert if_meant(line, box(*NEARLY)) == ()


@pytest.mark.parametrize("line", ["x" * 5000, "\x1b[31mgreen", "25:99 green", "green " * 900])
def test_any_line_may_be_looked_at(line: str) -> None:
    """Whatever was typed: at most three sentences and no failure."""
    assert len(if_meant(line, box())) <= 3


@pytest.mark.parametrize(
    ("line", "signs"),
    [
        ("udder hot and hard", {"udder-hot", "udder-hard"}), ("her udder is hard", {"udder-hard"}),
        ("one teat is hard and red", {"udder-hard"}), ("udder fine", {"udder-well"}),
        ("gland feels very hot", {"udder-hot"}), ("her gums are white", {"pale"}),
        ("tongue is blue", {"blue"}), ("she is stiff and staring", {"stiff", "staring"}),
        ("she is panting and staring", {"staring"}), ("dam staring panting", {"staring"}),
    ],
)  # fmt: skip
def test_how_she_is_in_ordinary_words(line: str, signs: set[str]) -> None:
    """Each is read as the dam's, though the word `dam` was left out."""
    found = what(line, *NEARLY)

    assert isinstance(found, DamState)
    assert set(found.signs) == signs


@pytest.mark.parametrize(
    "line", ["she is fine", "she is well", "one teat is soft", "she is bright"]
)
def test_nothing_everyday_ends_an_alarm(line: str) -> None:
    """That all is well is taken only when it is plainly said of her, or of the whole udder."""
    refused(line, *NEARLY)


def test_what_one_entry_cannot_hold_is_said() -> None:
    """Panting is a sign of its own; the graver is kept and the other asked for."""
    heard = read_line("she is panting and staring", box(*NEARLY))

    assert "on a line of its own, too: sign panting" in heard.echo


@pytest.mark.parametrize("line", ["dam temp 39.6", "mum temperature is 39.6", "dam temp is 39.6c"])
def test_her_temperature_may_follow_her_name(line: str) -> None:
    """A fever is read whichever comes first."""
    found = what(line, *NEARLY)

    assert isinstance(found, Temperature)
    assert (found.where, str(found.celsius)) == ("dam", "39.6")
    assert isinstance(what("dam weighs 31kg", *NEARLY), Weight)


@pytest.mark.parametrize("line", ["puppy came out dead", "pup came dead", "a puppy came out dead"])
def test_a_pup_that_came_out_dead_is_a_birth(line: str) -> None:
    """The words of a frightened person are no mark."""
    assert what(line) == Birth(pup=1, state="dead")


@pytest.mark.parametrize("line", ["puppy stuck", "pup is stuck", "puppy stuck half out"])
def test_a_pup_that_is_stuck_is_one_that_shows(line: str) -> None:
    """It rings the vet at once."""
    assert what(line) == Part(part="unknown")


@pytest.mark.parametrize("marks", [(), (None, None)])
def test_a_pup_that_is_not_there_gets_no_unrelated_line(marks: tuple[None, ...]) -> None:
    """Nothing of another sort is put into a mouth."""
    for line in ("the red one is cold", "red is cold", "red qqq"):
        assert refused(line, *marks).nearest == ""


@pytest.mark.parametrize(
    ("line", "pup", "signs"),
    [
        ("cold 1", 1, ("cold",)), ("weak 1", 1, ("weak",)), ("limp 1", 1, ("limp",)),
        ("1 cold", 1, ("cold",)), ("limp pup 1", 1, ("limp",)), ("weak pup two", 2, ("weak",)),
        ("pup 2 cold help", 2, ("cold",)), ("pup 2 cold, please help!", 2, ("cold",)),
        ("cold yellow", 2, ("cold",)), ("help! pup 1 is cold", 1, ("cold",)),
        ("cold weak 1", 1, ("cold", "weak")), ("limp 1 cold", 1, ("limp", "cold")),
        ("fits 3 quick", 3, ("fits",)), ("cold #3", 3, ("cold",)), ("dull 2", 2, ("weak",)),
        ("state 1 limp help", 1, ("limp",)), ("cold 1 2 min ago", 1, ("cold",)),
    ],
)  # fmt: skip
def test_a_sign_and_a_pup_are_read_in_either_order(
    line: str, pup: int, signs: tuple[PupSign, ...]
) -> None:
    """What is cried behind them takes nothing away."""
    assert what(line, *NEARLY) == PupState(pup=pup, signs=signs)


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("head stuck help", Part(part="head")),
        ("push help", Contraction()),
        ("help help", None),
        ("dam collapsed please hurry", DamState(signs=("collapsed",))),
        ("vet said please hurry", VetContact(contact="advised", said="please hurry")),
        ("died 1 past help", Death(pup=1, why="past help")),
        ('pup mark "help"', Birth(pup=5, mark="help")),
    ],
)
def test_a_cry_is_left_out_where_it_is_no_word_of_the_line(line: str, found: What | None) -> None:
    """What is kept as it was said keeps it."""
    if found is None:
        refused(line, *NEARLY)
    else:
        assert what(line, *NEARLY) == found


@pytest.mark.parametrize(
    "line", ["ok 1", "fine pup 1", "blue 3", "green 1", "cold", "cold pup", "cold 1 or 2"]
)
def test_what_may_be_meant_otherwise_is_not_turned(line: str) -> None:
    """That all is well ends alarms, a colour may be a mark, and nobody is named."""
    refused(line, *NEARLY)


@pytest.mark.parametrize(
    ("line", "marks", "why"),
    [
        ("cold 9", NEARLY, "There is no pup 9. There are: 1 (green), 2 (yellow), 3, 4 (red tail)."),
        ("cold 1", (), "No pup has been written down yet."),
        ("state crying", (), "No pup has been written down yet."),
        ("limp", (), "No pup has been written down yet."),
        ("milk", (), "No pup has been written down yet."),
    ],
)  # fmt: skip
def test_a_sign_of_a_pup_that_is_not_there_says_so(
    line: str, marks: tuple[str | None, ...], why: str
) -> None:
    """No line is offered that could not be read either."""
    answer = refused(line, *marks)
    assert answer.why.endswith(why)
    assert answer.nearest == ""


def test_a_limp_pup_with_the_next_number_is_a_birth() -> None:
    """A number that is not taken yet says that it has just been born."""
    assert what("limp pup 5", *NEARLY) == Birth(pup=5, state="limp")


@pytest.mark.parametrize("line", ["weak", "very weak", "weak help", "it's weak"])
def test_weak_alone_asks_who(line: str) -> None:
    """The dam, a pup, or her pushes: each with its line."""
    assert refused(line, *NEARLY).why == "Who is weak: the dam, a pup, or her pushes?"
    assert [one.rsplit(": ", 1)[1] for one in if_meant(line, box(*NEARLY))] == [
        "dam dull", "state N weak", "contraction weak",
    ]  # fmt: skip
    assert [one.rsplit(": ", 1)[1] for one in if_meant(line, box())] == [
        "dam dull", "contraction weak",
    ]  # fmt: skip
    over = replace(box(*NEARLY), litter=replace(box(*NEARLY).litter, phase="after whelping"))
    assert [one.rsplit(": ", 1)[1] for one in if_meant(line, over)] == ["dam dull", "state N weak"]


@pytest.mark.parametrize("line", ["she is weak", "she's very weak", "dam weak", "exhausted"])
def test_she_is_weak_is_the_dam(line: str) -> None:
    """Where it is said who, nothing is asked."""
    assert what(line, *NEARLY) == DamState(signs=("dull",))


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("weak 1 i think", ["state 1 weak"]), ("yellow seems rather cold", ["state 2 cold"]),
        ("one seems bloated to me", ["state N bloated"]), ("she seems weaker", ["dam dull"]),
        ("cold", ["state N cold"]), ("the room is cold tonight", []),
        ("weak pushes i think", ["contraction weak"]), ("not weak at all", []),
        ("pup 2 limp and weak somehow", ["state 2 limp"]),
    ],
)  # fmt: skip
def test_a_sign_that_is_not_read_is_no_clock_and_says_so(line: str, typed: list[str]) -> None:
    """A room may be cold and a push weak; of a pup it is a danger."""
    refused(line, *NEARLY)
    assert [one.rsplit(": ", 1)[1] for one in if_meant(line, box(*NEARLY))] == typed
    assert [one for one in if_meant(line, box()) if ": state" in one] == []


@pytest.mark.parametrize(
    "line",
    ["what do i do", "help me", "what now", "help!", "help", "HELP HELP please!!", "i need help",
     "what should i do now?", "should i ring the vet", "is this normal?", "emergency",
     "02:14 help", "I don't know what to do"],
)  # fmt: skip
def test_who_asks_for_help_is_told_whom_to_ring(line: str) -> None:
    """And where it stands what to do, and what to say; no odd word is offered."""
    answer = refused(line, *NEARLY)
    assert answer.why == (
        "That started no clock. In doubt ring the vet now. `boxlamp check` says what stands and "
        "what to do, `boxlamp call-sheet` (F12 in attend) what to tell the vet."
    )
    assert answer.nearest == ""


@pytest.mark.parametrize(
    ("details", "said"),
    [
        (Details(vet_phone="000 555 010"), "now: 000 555 010."),
        (Details(night_phone="000 555 011"), "now: 000 555 011."),
        (Details(vet_phone="000 555 010", night_phone="000 555 011"),
         "now: 000 555 010 or 000 555 011."),
        (Details(vet_phone="000 555 010", night_phone="000 555 010"), "now: 000 555 010."),
    ],
)  # fmt: skip
def test_the_numbers_to_ring_stand_in_the_answer(details: Details, said: str) -> None:
    """As they are written down, each once."""
    with pytest.raises(NotUnderstood) as found:
        read_line("help", Context(NOW, litter=Litter(details=details)))
    assert said in found.value.why


@pytest.mark.parametrize("line", ["is she pushing", "what colour is it?", "where is pup 2", "now"])
def test_another_question_keeps_its_own_answer(line: str) -> None:
    """Only a whole line that asks for help, and tells nothing, is taken so."""
    assert "ring the vet" not in refused(line, *NEARLY).why


def test_a_flat_pup_is_limp() -> None:
    """It is the breeder's everyday word, and no mark."""
    assert what("pup 4 born flat", "red", None, "blue") == Birth(pup=4, state="limp")
    assert what("red flat", "red") == PupState(pup=1, signs=("limp",))


@pytest.mark.parametrize("line", ["no pup, green discharge", "no pup green", "no pups yet green"])
def test_a_colour_behind_no_pup_is_no_mark(line: str) -> None:
    """The pup that is not there is not called green."""
    assert if_meant(line, box()) == ("If a discharge is green, type: discharge green",)


@pytest.mark.parametrize("how", ["barely breathing", "hardly breathes", "scarcely breathing"])
def test_a_pup_that_hardly_breathes_is_never_offered_as_breathing(how: str) -> None:
    """Its clock would stop by the very line that was copied."""
    context = box("red", "blue")
    with pytest.raises(NotUnderstood) as answer:
        read_line(f"blue is {how}", context)

    assert "breathing" not in answer.value.nearest.split()
    asked = "If pup 2 does not breathe, type: state 2 not-breathing"
    assert if_meant(f"blue is {how}", context) == (asked,)


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("red limp for 10 min now", "10 min ago state 1 limp"),
        ("red was limp, waters 10 min", "state 1 limp"),
    ],
)
def test_how_long_a_pup_is_limp_is_kept(line: str, typed: str) -> None:
    """Unless it may be the time of something else."""
    assert typed in if_meant(line, box("red"))[0]


@pytest.mark.parametrize("line", ["2 is fighting for breath", "blue struggles to breathe"])
def test_a_pup_that_struggles_for_breath_breathes_hard(line: str) -> None:
    """It is a sign of its own; of a pup that nobody named it is offered."""
    assert what(line, "red", "blue") == PupState(pup=2, signs=("laboured-breathing",))
    asked = "If a pup breathes hard (N: its number), type: state N laboured-breathing"
    assert if_meant("struggling to breathe", box("red", "blue")) == (asked,)


@pytest.mark.parametrize(
    ("line", "typed"),
    [
        ("cord is bleeding", "cord N bleeding"),
        ("she has eaten the cord too short its bleeding", "cord N bleeding"),
        ("blue one its cord bleeds a lot", "cord 2 bleeding"),
    ],
)
def test_a_cord_that_bleeds_is_of_a_pup(line: str, typed: str) -> None:
    """The dam does not bleed, and its own clock runs for a cord."""
    told = [said.rsplit("type: ", 1)[1] for said in if_meant(line, box("red", "blue"))]
    assert typed in told
    assert "discharge red heavy" not in told


@pytest.mark.parametrize("line", ["another limp pup", "next one is limp", "new one not breathing"])
def test_another_pup_in_need_is_offered_as_a_birth_first(line: str) -> None:
    """Then as the state of one that is there."""
    told = [said.rsplit("type: ", 1)[1] for said in if_meant(line, box("red", "blue"))]
    assert told[0] == "pup limp"
    assert told[1].startswith("state N ")


@pytest.mark.parametrize(
    "how",
    ["breathing stopped", "breathing has stopped", "no longer breathing", "stops breathing",
     "heart stopped", "has stopped moving"],
)  # fmt: skip
def test_a_pup_that_has_stopped_breathing_is_a_danger(how: str) -> None:
    """In whatever order it is said."""
    told = if_meant(f"pup 2 {how}", box("red", "blue"))
    assert told == ("If pup 2 does not breathe, type: state 2 not-breathing",)


@pytest.mark.parametrize("how", ["but limp", "gasping", "poorly", "only just", "irregular", "hard"])
def test_a_pup_that_breathes_badly_is_not_offered_as_breathing(how: str) -> None:
    """That line would end its clock."""
    with pytest.raises(NotUnderstood) as answer:
        read_line(f"2 breathing {how}", box("red", "blue"))
    assert answer.value.nearest == ""


def test_what_names_no_pup_is_not_said_of_one_just_born() -> None:
    """``limp`` alone would be said of it; behind another pup it is said of that one, or asked."""
    first = NOW - timedelta(hours=1)
    births = [(first, Birth(pup=1, mark="red")), (NOW - timedelta(minutes=2), Birth(pup=2))]
    context = Context.of(
        [
            Draft(at=at, what=born).numbered(number, "night", NOW)
            for number, (at, born) in enumerate(births, start=1)
        ],
        NOW,
        "Europe/Prague",
    )
    assert read_line("limp", context).draft.what == PupState(pup=2, signs=("limp",))
    with pytest.raises(NotUnderstood):
        heard("red breathing, limp", context)
    told = if_meant("red breathing, limp", context)
    assert told == ("If pup 1 is limp, type: state 1 limp",)


def test_an_offer_with_half_a_time_gives_no_time_to_a_birth() -> None:
    """A birth that is offered has a time that is whole, or none."""
    told = if_meant("pup born not breathing oddly", box("red"), "~ pup")
    assert told[0].endswith("type: pup limp")
