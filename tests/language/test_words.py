from datetime import timedelta
from decimal import Decimal

import pytest

from boxlamp.language import VOCABULARY, Context, NotUnderstood, Word, kept_as_note, read_line
from boxlamp.language.vocabulary import COMMANDS
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import (
    Ack,
    Afterbirth,
    Amend,
    Birth,
    Caesarean,
    Contraction,
    DamState,
    Death,
    Details,
    Discharge,
    Expect,
    Feed,
    Finished,
    Limit,
    Mating,
    Note,
    Ovulation,
    Part,
    PupState,
    Rest,
    Sac,
    Scan,
    Score,
    Settled,
    Sexed,
    Sign,
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

BORN = NOW - timedelta(minutes=20)
PUPS = ((1, "red"), (2, "blue"), (3, None), (4, "light green"), (5, "lilac"))


def box() -> Context:
    """Five pups in the box, 02:14 in Prague."""
    entries: list[Entry] = [
        Draft(at=BORN, what=Birth(pup=number, mark=mark, weight=Decimal(300))).numbered(
            number, "night", NOW
        )
        for number, mark in PUPS
    ]
    return Context.of(entries, NOW, "Europe/Prague")


def what(line: str) -> What:
    return read_line(line, box()).draft.what


def dec(text: str) -> Decimal:
    return Decimal(text)


HEARD: list[tuple[str, What]] = [
    ("temp 37.1", Temperature(celsius=dec("37.1"))),
    ("Temp 37,1.", Temperature(celsius=dec("37.1"))),
    ("temp 98.8f", Temperature(celsius=dec("37.11"))),
    ("t 98.8", Temperature(celsius=dec("37.11"))),
    ("temp dam 37.1 \u00b0C", Temperature(celsius=dec("37.1"))),
    ("temp pup 3 35.2", Temperature(celsius=dec("35.2"), where="pup", pup=3)),
    ("temp 3 35.2", Temperature(celsius=dec("35.2"), where="pup", pup=3)),
    ("temp 35.2 red", Temperature(celsius=dec("35.2"), where="pup", pup=1)),
    ("temp box 86f", Temperature(celsius=dec("30"), where="box")),
    ("temp 30 box", Temperature(celsius=dec("30"), where="box")),
    ("sign restless, nesting and off food", Sign(signs=("restless", "nesting", "off-food"))),
    ("panting shivering", Sign(signs=("panting", "shivering"))),
    ("settled", Settled()),
    ("waters", Waters()),
    ("waters broke green", Waters(colour="green")),
    ("sac", Sac()),
    ("bag at the vulva", Sac()),
    ("part head", Part(part="head")),
    ("feet showing", Part(part="feet")),
    ("part", Part()),
    ("c", Contraction()),
    ("push strong", Contraction(strength="strong")),
    ("weak contraction", Contraction(strength="weak")),
    ("STRAIN WEAK", Contraction(strength="weak")),
    ("rest", Rest()),
    ("rest, sac gone", Rest(sac_gone=True)),
    ("discharge", Discharge()),
    ("discharge dark green foul heavy", Discharge(colour="green", amount="heavy", foul=True)),
    ("red discharge clots", Discharge(colour="red", amount="clots")),
    ("discharge none", Discharge(amount="none")),
    ("caesarean", Caesarean()),
    ("c-section", Caesarean()),
    ("finished", Finished()),
    ("finished by scan", Finished(by="scan")),
    ("pup", Birth(pup=6)),
    ("born", Birth(pup=6)),
    ("boy 312 g", Birth(pup=6, sex="dog", weight=dec("312"))),
    ("bitch 11oz orange", Birth(pup=6, sex="bitch", weight=dec("311.8"), mark="orange")),
    ("dead pup", Birth(pup=6, state="dead")),
    ("pup 340", Birth(pup=6, weight=dec("340"))),
    ("pup 6 m", Birth(pup=6, sex="dog")),
    ("pup 1lb3oz", Birth(pup=6, weight=dec("538.6"))),
    (
        "pup limp in sac pink m head first 312g",
        Birth(pup=6, sex="dog", weight=dec("312"), mark="pink", state="limp",
              presentation="head", in_sac=True),
    ),
    ("pup 6 bitch 340 white collar", Birth(pup=6, sex="bitch", weight=dec("340"),
                                           mark="white collar")),
    ("dog pale grey", Birth(pup=6, sex="dog", mark="pale grey")),
    ("pup 3 state limp", PupState(pup=3, signs=("limp",))),
    ("3 weighs 340g", Weight(pup=3, grams=dec("340"))),
    ("red crying", PupState(pup=1, signs=("crying",))),
    ("pup f mark Luna", Birth(pup=6, sex="bitch", mark="Luna")),
    ('pup f "two dots"', Birth(pup=6, sex="bitch", mark="two dots")),
    ("pup born dead feet first", Birth(pup=6, state="dead", presentation="feet")),
    ("sex 3 dog", Sexed(pup=3, sex="dog")),
    ("sex 3 f", Sexed(pup=3, sex="bitch")),
    ("afterbirth", Afterbirth()),
    ("placenta of red eaten", Afterbirth(of=1, fate="eaten")),
    ("ab x2", Afterbirth(count=2)),
    ("afterbirth of 3 not seen", Afterbirth(of=3, fate="not-seen")),
    ("sac-open 3", Step(step="sac-open", pup=3)),
    ("airway 3", Step(step="airway", pup=3)),
    ("3 breathing", Step(step="breathing", pup=3)),
    ("pup 3 breathing", Step(step="breathing", pup=3)),
    ("cord 3", Step(step="cord", pup=3)),
    ("cord bl bleeding", Step(step="cord", pup=2, finding="bleeding")),
    ("dried #3", Step(step="dried", pup=3)),
    ("red milk", Step(step="milk", pup=1)),
    ("milk light green", Step(step="milk", pup=4)),
    ("to-teat 3", Step(step="teat", pup=3)),
    ("palate 3 cleft", Step(step="palate", pup=3, finding="cleft")),
    ("mark 3 White Collar", Step(step="marked", pup=3, finding="White Collar")),
    ("score 3 2 2 1 2 2", Score(pup=3, items=(2, 2, 1, 2, 2))),
    ("score 3 2 ? 1 2 x", Score(pup=3, items=(2, None, 1, 2, None))),
    ("weigh red 340g", Weight(pup=1, grams=dec("340"))),
    ("w 3 12oz", Weight(pup=3, grams=dec("340.2"))),
    ("weigh 340 g red", Weight(pup=1, grams=dec("340"))),
    ("weigh 0.34kg pup 3", Weight(pup=3, grams=dec("340"))),
    ("weigh dam 31", Weight(grams=dec("31000"))),
    ("feed 3", Feed(pup=3)),
    ("feed 3 4ml bottle", Feed(pup=3, how="bottle", millilitres=dec("4"))),
    ("tube 3 4,5 ml", Feed(pup=3, how="tube", millilitres=dec("4.5"))),
    ("teat 3", Feed(pup=3, how="teat")),
    ("state 3 crying limp", PupState(pup=3, signs=("crying", "limp"))),
    ("state blue limp", PupState(pup=2, signs=("limp",))),
    ("limp 3", PupState(pup=3, signs=("limp",))),
    ("pup 3 limp", PupState(pup=3, signs=("limp",))),
    ("not breathing 3", PupState(pup=3, signs=("not-breathing",))),
    ("state 3 well", PupState(pup=3, signs=("well",))),
    ("died 3", Death(pup=3)),
    ("died red found cold", Death(pup=1, why="found cold")),
    ("died 3; lain on", Death(pup=3, why="lain on")),
    ("dam ate drank", DamState(signs=("ate", "drank"))),
    ("dam off food", DamState(signs=("refused-food",))),
    ("dam won\u2019t eat", DamState(signs=("refused-food",))),
    ("dam pale gums", DamState(signs=("pale",))),
    ("dam fitting", DamState(signs=("fits",))),
    ("she ate", DamState(signs=("ate",))),
    ("given glucose by mouth", Treatment(what="glucose by mouth")),
    ("given the pill by Dr Novak", Treatment(what="the pill", by="Dr Novak")),
    ("vet called; said wait", VetContact(contact="called", said="said wait")),
    ("called the vet", VetContact(contact="called")),
    ("vet advised come in now", VetContact(contact="advised", said="come in now")),
    ("left for vet", VetContact(contact="left-for")),
    ("mated", Mating()),
    ("ovulation", Ovulation(basis="ovulation")),
    ("lh", Ovulation(basis="lh")),
    ("diestrus", Ovulation(basis="dioestrus")),
    ("progesterone 6,2 ng", Ovulation(basis="progesterone", value=dec("6.2"))),
    ("progesterone 19.7 nmol/L rise", Ovulation(basis="progesterone-rise", value=dec("6.19"))),
    ("scan 6 pups", Scan(method="ultrasound", count=6)),
    ("scan icc 3cm", Scan(method="ultrasound", measure="icc", millimetres=dec("30"))),
    ("scan bpd 22 mm 5", Scan(method="ultrasound", count=5, measure="bpd",
                              millimetres=dec("22"))),
    ("x-ray 6 pups", Scan(method="xray", count=6)),
    ("expect 6 xray", Expect(count=6, method="xray")),
    ("expect 6", Expect(count=6)),
    ("set vet-phone 01234 567890", Details(vet_phone="01234 567890")),
    ("set weight 12.4kg", Details(weight=dec("12400"))),
    ("set weight 27lb", Details(weight=dec("12247.0"))),
    ("set age 18 months", Details(age_years=dec("1.5"))),
    ("set first litter yes", Details(first_litter=True)),
    ("set travel 1h10m", Details(travel_minutes=70)),
    ("set dam Bella / breed Boxer", Details(dam="Bella", breed="Boxer")),
    (
        "limit gap-more-expected call 3h by Dr Novak; she is strong",
        Limit(rule="gap-more-expected", level="call", seconds=10800, by="Dr Novak",
              why="she is strong"),
    ),
    (
        "limit temp fever go at once by vet; old illness",
        Limit(rule="temp", clock="fever", level="go", seconds=0, by="vet", why="old illness"),
    ),
    ("ack", Ack()),
    ("ack contraction-no-pup", Ack(rule="contraction-no-pup")),
    ("note she is calm; really", Note(words="she is calm; really")),
    ("strike 2 typed twice", Strike(target=2, why="typed twice")),
    ("strike #2; typed twice", Strike(target=2, why="typed twice")),
    ("amend 2 temp 37.2", Amend(target=2, what=Temperature(celsius=dec("37.2")))),
    ("amend 2 02:10", Amend(target=2, retimed=True)),
    ("amend 2 02:10 pup m", Amend(target=2, retimed=True, what=Birth(
        pup=2, sex="dog", weight=dec("300"), mark="blue"))),
]  # fmt: skip


@pytest.mark.parametrize(("line", "wanted"), HEARD, ids=[line for line, _ in HEARD])
def test_each_line_means_one_thing(line: str, wanted: What) -> None:
    """Every kind of entry can be typed, in the trade's words and in the order they come."""
    assert what(line) == wanted


REFUSED = [
    ("pup coming", "part something"),
    ("no pup yet", ""),
    ("pup m f", "pup"),
    ("pup 312g 300g", "pup"),
    ("pup 3 m", "sex 3 dog"),
    ("bitch vomited", "dam vomited"),
    ("sac gone", "sac"),
    ("not pushing", ""),
    ("contraction not strong", "note contraction not strong"),
    ("discharge green not foul", "discharge green; not foul"),
    ("discharge red heavy none", "discharge red heavy"),
    ("discharge very red", "discharge red; very"),
    ("discharge not green", "note discharge not green"),
    ("discharge purple", "note discharge purple"),
    ("discharge blakc heavy", "discharge black heavy"),
    ("temp", "temp ..."),
    ("temp 66", "temp ..."),
    ("temp 12c", "temp ..."),
    ("temp 3714", "temp ..."),
    ("milk 1 2 3", "milk 1"),
    ("milk", "milk N"),
    ("milk 9", "milk N"),
    ("milk l", "milk N"),
    ("milk green", "milk N"),
    ("cord 3 torn", "cord 3"),
    ("afterbirth 2", "afterbirth of 2"),
    ("score 3 2 2 2", "score 3"),
    ("score 3 2 2 2 2 3", "score 3"),
    ("weigh 340g", "weigh"),
    ("weigh 3", "weigh 3 ...g"),
    ("mark 3 7", ""),
    ("mark 3", ""),
    ("progesterone 6.2", "progesterone 6.2 ..."),
    ("scan", "scan ... pups"),
    ("expect", "expect ..."),
    ("set shoe 44", "set ..."),
    ("set zone Moon/Crater", "set zone ..."),
    ("set first-litter perhaps", "set first-litter ..."),
    ("limit gap call 3h", "limit ... call 3h by ..."),
    ("strike", "strike 5 typed by mistake"),
    ("strike 99 x", "strike"),
    ("amend 2", "amend 2 HH:MM"),
    ("amend 2 strike 1", "strike 2"),
    ("ack one two", ""),
    ("dam", "dam ..."),
    ("vet", ""),
    ("given", "given ..."),
    ("", ""),
    ("  ;; ", ""),
    ("02:14", "02:14"),
    ("contracton strong", "contraction strong"),
    ("blorg", ""),
    ("red", "weigh red ...g"),
    ("9" * 5000, ""),
    ("weigh dam 9999kg", "weigh"),
]


@pytest.mark.parametrize(("line", "nearest"), REFUSED, ids=[line[:30] for line, _ in REFUSED])
def test_what_is_unsure_is_refused_with_something_that_works(line: str, nearest: str) -> None:
    """A line is never half read: what does not fit is refused, and a near line is shown."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(line, box())
    assert refused.value.nearest.startswith(nearest)
    assert refused.value.why
    assert len(str(refused.value)) < 400


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("pup m 31g", "implausible"),
        ("pup m 3120g", "implausible"),
        ("temp 25c", "implausible"),
        ("pup m 312g lmp", "mark"),
        ("pup m 312g Luna", "mark"),
        ("pup m red", "mark-taken"),
        ("mark 3 red", "mark-taken"),
        ("pup 8 m", "pup-number"),
        ("pup head", "birth-or-part"),
        ("pup cold 300g", "mark"),
    ],
)
def test_what_is_likely_a_slip_is_asked(line: str, code: str) -> None:
    """Read, but asked about first, with a way to type it surely."""
    (doubt,) = read_line(line, box()).doubts
    assert doubt.code == code
    assert doubt.sentence
    assert doubt.fix


def test_a_slip_in_a_birth_is_named() -> None:
    """``lmp`` is not silently made the mark of a pup that is limp."""
    (doubt,) = read_line("pup m 312g lmp", box()).doubts
    assert "limp" in doubt.fix


@pytest.mark.parametrize("line", ["pup head first", "pup m head", "born feet first", "breech pup"])
def test_a_birth_that_is_plain_is_not_asked_about(line: str) -> None:
    """Only the bare ``pup head`` may mean a part that shows."""
    assert read_line(line, box()).doubts == ()


def test_the_note_after_the_semicolon() -> None:
    """Free words stand beside what was read, exactly as typed."""
    draft = read_line('temp 37.1; She said: "wait"; so we wait ', box()).draft
    assert draft.note == 'She said: "wait"; so we wait'
    assert draft.text == 'temp 37.1; She said: "wait"; so we wait'


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("c", "counts as strong"),
        ("temp 98.8", "98.8 \u00b0F = 37.11 \u00b0C"),
        ("weigh 3 12oz", "12 oz = 340.2 g"),
        ("weigh 3 340", "340 g"),
        ("weigh red 340g", "pup 1 is red"),
        ("pup m", "this is pup 6"),
        ("progesterone 19.7 nmol", "6.19 ng/mL"),
        ("strike 2", "entry 2 was: pup 2 300g blue"),
        ("amend 2 02:10", "entry 2 now reads: 02:10  pup 2 300g blue"),
        ("feed 3", "taken as at the teat"),
        ("-5m temp 37.1", "02:09:05"),
        ("23:50 waters", "yesterday 23:50"),
        ("temp 37.1; shaken", "; shaken"),
    ],
)
def test_whatever_was_assumed_is_echoed(line: str, said: str) -> None:
    """The echo shows the time, the words, and every conversion or assumption."""
    assert said in read_line(line, box()).echo


@pytest.mark.parametrize("word", VOCABULARY, ids=lambda word: word.word)
def test_every_example_reads_as_its_own_word(word: Word) -> None:
    """Help shows only lines that work."""
    assert word.meaning
    assert word.pattern.startswith(word.word)
    for example in word.examples:
        read_line(example, box())


def test_no_phrase_belongs_to_two_words() -> None:
    """Every synonym begins one kind of line only."""
    phrases = [
        phrase.replace("-", " ")
        for word in VOCABULARY
        for phrase in (word.word, *word.synonyms, *word.telling)
    ]
    assert len(phrases) == len(set(phrases)) == len(COMMANDS)


def test_every_phrase_is_understood_or_answered() -> None:
    """No synonym leads anywhere but to an entry or a helpful refusal."""
    for phrase in COMMANDS:
        for rest in ("", " 3", " red 340g", " head"):
            try:
                read_line(phrase + rest, box())
            except NotUnderstood as refused:
                word = COMMANDS[phrase][0].word
                # What ends or silences something is never offered to a line that is not sure.
                silent = {"caesarean", "finished", "ack", "mark", "vet"}
                assert refused.nearest or word in silent, phrase + rest  # noqa: PT017 - either answer will do


def test_several_pups_are_listed_when_a_start_is_not_unique() -> None:
    """Two marks that begin alike are both named."""
    with pytest.raises(NotUnderstood) as refused:
        read_line("milk li", box())
    assert "4 (light green) or 5 (lilac)" in refused.value.why


def test_the_pups_are_listed_when_one_is_unknown() -> None:
    """A wrong number is answered with the numbers there are."""
    with pytest.raises(NotUnderstood) as refused:
        read_line("milk 9", box())
    assert "1 (red), 2 (blue), 3, 4 (light green), 5 (lilac)" in refused.value.why


def test_a_whole_mark_wins_over_a_longer_one() -> None:
    """A pup marked red is found though another is marked red collar."""
    entries = [
        Draft(at=NOW, what=Birth(pup=n, mark=mark)).numbered(n, "night", NOW)
        for n, mark in ((1, "red collar"), (2, "Red"), (3, "\u010derven\u00e1"))
    ]
    context = Context.of(entries, NOW)

    assert read_line("milk RED", context).draft.what == Step(step="milk", pup=2)
    assert read_line("milk red c", context).draft.what == Step(step="milk", pup=1)
    assert read_line("milk \u010cerv", context).draft.what == Step(step="milk", pup=3)


def test_a_new_pup_follows_the_highest_number() -> None:
    """A struck birth leaves a gap that may be filled by saying the number."""
    entries = (box().entries or {}).values()
    strike = Draft(at=NOW, what=Strike(target=3)).numbered(6, "night", NOW)
    context = Context.of([*entries, strike], NOW)

    assert read_line("pup", context).draft.what == Birth(pup=6)
    heard = read_line("pup 3 m", context)
    assert heard.draft.what == Birth(pup=3, sex="dog")
    assert heard.doubts == ()


def test_an_amended_clock_is_the_one_nearest_to_the_entry() -> None:
    """23:50 corrects an entry of 00:10 to the evening before, whatever time it is now."""
    at = NOW.replace(day=1, hour=23, minute=10)
    entry = Draft(at=at, what=Sac()).numbered(1, "night", at)
    context = Context.of([entry], NOW.replace(day=3, hour=20), "Europe/Prague")
    draft = read_line("amend 1 23:50", context).draft

    assert draft.at == NOW.replace(day=1, hour=22, minute=50, second=0)
    assert read_line("amend 1 23:50", context).doubts == ()


def test_a_line_that_is_not_understood_is_kept_whole() -> None:
    """Its time is kept when that much could be read, and nothing dangerous is."""
    draft = kept_as_note("02:10 blorg \x1b[31mred\u202e; x", box())

    assert draft.at == NOW.replace(minute=10, second=0)
    assert draft.what == Note(words="02:10 blorg \ufffd[31mred\ufffd; x", unread=True)
    assert draft.text == "02:10 blorg \ufffd[31mred\ufffd; x"


def test_an_endless_line_is_kept_as_far_as_it_fits() -> None:
    """The note says that it was cut, and how long the line was."""
    draft = kept_as_note("x" * 9000, box())

    assert isinstance(draft.what, Note)
    assert len(draft.what.words) <= 4000
    assert "9000" in draft.what.words[-40:]


def test_a_kept_line_never_lies_in_the_future() -> None:
    """A time that cannot be meant is not believed."""
    assert kept_as_note("today 23:50 blorg", box()).at == NOW


def test_pasted_terminal_codes_are_not_words() -> None:
    """Colour codes around a word do not hide it."""
    draft = read_line("\x1b[1mtemp\x1b[0m 37.1", box()).draft
    assert draft.what == Temperature(celsius=dec("37.1"))
    assert "\x1b" not in draft.text


@pytest.mark.parametrize("key", ["vet-phone", "night-phone", "phone"])
def test_a_telephone_number_has_three_digits(key: str) -> None:
    """Any way of writing one will do; words alone cannot be rung, and say so."""
    for number in ("112", "+44 (0)1234 / 567", "surgery: 01234"):
        assert isinstance(read_line(f'set {key} "{number}"', box()).draft.what, Details)
    with pytest.raises(NotUnderstood) as refused:
        read_line(f"set {key} abc", box())
    assert refused.value.why == "There are no three digits in 'abc', so nobody can be rung by it."
