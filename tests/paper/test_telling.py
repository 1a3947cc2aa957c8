import unicodedata
from collections.abc import Iterator
from decimal import Decimal
from typing import Any, get_args
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boxlamp.model.entry import Draft
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
    Happening,
    Kit,
    Limit,
    Mating,
    Milestone,
    Note,
    Ovulation,
    Part,
    PupState,
    Reflexes,
    Rest,
    Round,
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
    Weighed,
    Weight,
    What,
)
from boxlamp.model.quantities import plain
from boxlamp.model.seen import Colour, DamSign, MilestoneName, PupSign, SignName, StepName
from boxlamp.paper.reader import Reader
from boxlamp.paper.telling import told, told_entry
from boxlamp.paper.telling_words import FINDING_WORDS
from boxlamp.planning.kit import ITEMS
from boxlamp.view.text import REPLACEMENT, clean
from support.accounts import READER
from support.happenings import ANYTHING, NOW
from support.made import at

AMERICAN = Reader(ZoneInfo("America/New_York"), clock="12h", weights="oz", temperatures="F")
THIRD = {3: "pup 3 (red)"}
GRAMS = Decimal(312)

SENTENCES: list[tuple[What, str]] = [
    (Mating(), "Mated"),
    (Ovulation(basis="lh"), "LH rise"),
    (Ovulation(basis="progesterone", value=Decimal("6.2")), "Progesterone measured: 6.2 ng/mL"),
    (Ovulation(basis="progesterone-rise"), "Progesterone has begun to rise: value not given"),
    (Scan(method="xray", count=6), "X-ray: 6 pups counted"),
    (
        Scan(method="ultrasound", measure="icc", millimetres=Decimal(30)),
        "Ultrasound scan: inner chorionic cavity (ICC) 30 mm",
    ),
    (Scan(method="xray"), "X-ray: no count or size given"),
    (Expect(count=1), "1 pup expected (a guess)"),
    (Temperature(celsius=Decimal("37.1")), "Dam's temperature 37.1 °C"),
    (
        Temperature(celsius=Decimal("35.2"), where="pup", pup=3),
        "Pup 3 (red): temperature 35.2 °C",
    ),
    (Temperature(celsius=Decimal("29.5"), where="box"), "Temperature in the box 29.5 °C"),
    (
        Temperature(celsius=Decimal(36), where="pup"),
        "A pup (which one was not said): temperature 36.0 °C",
    ),
    (Sign(signs=("restless", "off-food")), "Signs of the first stage: restless, off her food"),
    (Settled(), "Signs of the first stage gone; she has settled"),
    (Waters(colour="green"), "Waters broke, green"),
    (Waters(), "Waters broke, colour not given"),
    (Sac(), "A sac (water bag) at the vulva"),
    (Part(part="feet"), "Feet of a pup showing at the vulva"),
    (Part(), "Part of a pup showing at the vulva, which part not given"),
    (Contraction(strength="strong"), "Strong contraction"),
    (Contraction(), "Contraction, strength not given"),
    (Rest(), "Stopped pushing"),
    (Rest(sac_gone=True), "Stopped pushing; the sac has slipped back"),
    (
        Birth(pup=3, sex="dog", weight=GRAMS, mark="red", presentation="head"),
        "Pup 3 born: dog, 312 g, head first, marked red",
    ),
    (Birth(pup=4), "Pup 4 born"),
    (Birth(pup=4, state="limp", in_sac=True), "Pup 4 born: limp, still in its sac"),
    (Sexed(pup=4, sex="bitch"), "Pup 4: bitch"),
    (Afterbirth(), "Afterbirth seen"),
    (Afterbirth(of=3, fate="eaten"), "Afterbirth of pup 3 (red): eaten by the dam"),
    (Afterbirth(count=2, fate="not-seen"), "2 afterbirths looked for and not seen"),
    (Discharge(colour="green", amount="heavy", foul=True), "Heavy green discharge, foul smell"),
    (Discharge(), "Some discharge, colour not given"),
    (Discharge(colour="pus", amount="streak"), "A streak of pus-like discharge"),
    (Discharge(amount="none"), "No discharge"),
    (Step(step="cord", pup=3, finding="bleeding"), "Pup 3 (red): cord bleeding"),
    (Step(step="palate", pup=4), "Pup 4: palate looked at, finding not given"),
    (Step(step="marked", pup=4, finding="blue"), "Pup 4: marked blue"),
    (
        Score(pup=3, items=(2, 2, 1, None, 0)),
        (
            "Pup 3 (red): viability score 5 of 8 (heart rate 2, breathing 2, reflex 1, "
            "movement not taken, colour 0)"
        ),
    ),
    (
        Reflexes(pup=4, suckle=2, rooting=0),
        "Pup 4: reflexes: suckling good, rooting absent, righting not tested",
    ),
    (Weight(pup=3, grams=GRAMS), "Pup 3 (red) weighed: 312 g"),
    (Weight(grams=Decimal(12_400)), "Dam weighed: 12.4 kg"),
    (
        Round(weights=(Weighed(pup=3, grams=GRAMS), Weighed(pup=4, grams=Decimal(300)))),
        "Pups weighed: pup 3 (red): 312 g; pup 4: 300 g",
    ),
    (Feed(pup=4, how="tube", millilitres=Decimal(4)), "Pup 4 fed: by tube, 4 ml"),
    (PupState(pup=4, signs=("weak", "not-suckling")), "Pup 4: weak, not suckling"),
    (Death(pup=4), "Pup 4 died: cause not given"),
    (Milestone(milestone="eyes-open"), "All pups: eyes open"),
    (Milestone(milestone="chipped", pup=4, number="123"), "Pup 4: chipped, number 123"),
    (Milestone(milestone="chipped", pup=4), "Pup 4: chipped, number not given"),
    (Kit(item="towels"), "Ready for the whelping: A pile of clean dry towels"),
    (Kit(item="my own thing", have=False), "Not ready for the whelping: my own thing"),
    (DamState(signs=("refused-food", "pale")), "Dam: refused food, pale gums"),
    (Treatment(what="sugar water", by="Ann"), "Given: sugar water; by Ann"),
    (Treatment(what="sugar water"), "Given: sugar water; by whom was not said"),
    (VetContact(contact="called", said="come at once"), "Vet called: come at once"),
    (VetContact(contact="arrived"), "With the vet"),
    (Caesarean(), "Caesarean"),
    (Finished(), "Whelping over, in the breeder's judgement"),
    (Note(words="she sleeps"), "Note: she sleeps"),
    (Note(words="asdf", unread=True), 'Not understood: "asdf"'),
    (Ack(), "Took notice of every alert"),
    (Ack(rule="part-showing"), 'Took notice of the alert "Part of a pup showing"'),
    (
        Amend(target=12, what=Contraction(strength="weak")),
        "Correction of entry 12: Weak contraction",
    ),
    (Amend(target=12, retimed=True), "Correction of entry 12: its time"),
    (Strike(target=12, why="typed twice"), "Entry 12 withdrawn: typed twice"),
    (Strike(target=12), "Entry 12 withdrawn: no reason given"),
    (
        Limit(rule="part-showing", level="go", seconds=90, by="Dr Ash", why="she is small"),
        (
            'Limit changed for "Part of a pup showing": go to the vet after 1 min 30 s, '
            "on the word of Dr Ash; reason: she is small"
        ),
    ),
    (
        Limit(rule="x", clock="y", level="call", seconds=0, by="Ash", why=""),
        'Limit changed for "x" (y): call the vet at once, on the word of Ash; reason: not given',
    ),
]


@pytest.mark.parametrize(("what", "sentence"), SENTENCES, ids=[line for _, line in SENTENCES])
def test_each_kind_has_its_sentence(what: Happening, sentence: str) -> None:
    """A person who never saw the words of the log reads what happened, and what is not known."""
    assert told(what, READER, THIRD) == sentence


def test_every_kind_is_among_the_sentences() -> None:
    """No kind of happening is left without an example, the facts about the dam apart."""
    kinds = {type(what) for what, _ in SENTENCES}

    assert kinds == set(What.__subclasses__()) - {Details}


def test_the_facts_about_the_dam_are_all_told() -> None:
    """Each fact has its label and its unit, and a no is said as a no."""
    details = Details(
        dam="Tansy", breed="Beagle", age_years=Decimal("3.5"), weight=Decimal(12_400),
        breed_birth_weight=Decimal(280), first_litter=True, flat_faced=False, toy=False,
        earlier_dystocia=True, earlier_caesarean=False, zone="Europe/Prague", vet="Hill Vets",
        vet_phone="000 1", night_phone="000 2", travel_minutes=25,
    )  # fmt: skip

    assert told(details, READER) == (
        "About the dam: name Tansy; breed Beagle; age 3.5 years; weight 12.4 kg; "
        "usual birth weight of the breed 280 g; time zone Europe/Prague; vet Hill Vets; "
        "vet's telephone 000 1; telephone at night 000 2; her first litter; not flat-faced; "
        "not a toy breed; a difficult whelping before; no caesarean before; 25 min to the vet"
    )
    assert told(Details(), READER) == "About the dam: nothing given"


def _of_closed_lists() -> Iterator[tuple[str, list[Happening]]]:
    """Happenings that differ in one word of a closed list."""
    yield "signs", [Sign(signs=(name,)) for name in get_args(SignName)]
    yield "dam", [DamState(signs=(name,)) for name in get_args(DamSign)]
    yield "pup", [PupState(pup=1, signs=(name,)) for name in get_args(PupSign)]
    yield "step", [Step(pup=1, step=name) for name in get_args(StepName)]
    yield "milestone", [Milestone(milestone=name) for name in get_args(MilestoneName)]
    yield "waters", [Waters(colour=name) for name in get_args(Colour)]
    yield "discharge", [Discharge(colour=name) for name in get_args(Colour)]
    yield "kit", [Kit(item=item.id, have=have) for item in ITEMS for have in (True, False)]
    literals: list[tuple[type[What], str, dict[str, Any]]] = [
        (Ovulation, "basis", {}), (Scan, "method", {}), (Expect, "method", {"count": 2}),
        (Part, "part", {}), (Contraction, "strength", {}), (Afterbirth, "fate", {}),
        (Discharge, "amount", {}), (Feed, "how", {"pup": 1}), (VetContact, "contact", {}),
        (Finished, "by", {}), (Sexed, "sex", {"pup": 1}),
        (Limit, "level", {"rule": "x", "seconds": 1, "by": "y", "why": "z"}),
    ]  # fmt: skip
    for kind, name, others in literals:
        values = get_args(kind.model_fields[name].annotation)
        yield name, [kind.model_validate({name: value, **others}) for value in values]  # type: ignore[misc]


@pytest.mark.parametrize(("name", "each"), [*_of_closed_lists()])
def test_no_two_words_of_a_list_sound_the_same(name: str, each: list[Happening]) -> None:
    """Whatever can be chosen from a list is told apart, and none is told as its code."""
    sentences = [told(what, READER) for what in each]

    assert len(set(sentences)) == len(each), name
    assert not [said for said in sentences if "unspecified" in said or "unknown" in said]


@given(st.tuples(*[st.none() | st.integers(0, 2)] * 5))
def test_a_score_names_every_item(items: tuple[int | None, ...]) -> None:
    """The sum is held against what was taken, and an item not taken is never a nought."""
    said = told(Score.model_validate({"pup": 1, "items": items}), READER)
    taken = [item for item in items if item is not None]

    assert (f"score {sum(taken)} of {2 * len(taken)} " in said) == bool(taken)
    assert said.count("not taken") == items.count(None) + (not taken)


def test_units_are_the_readers() -> None:
    """Ounces, pounds and Fahrenheit for whoever is used to them."""
    assert told(Weight(pup=1, grams=GRAMS), AMERICAN) == "Pup 1 weighed: 11.0 oz"
    assert told(Weight(grams=Decimal(12_400)), AMERICAN) == "Dam weighed: 27.3 lb"
    assert told(Temperature(celsius=Decimal(37)), AMERICAN) == "Dam's temperature 98.6 °F"


def test_a_dam_under_a_kilogram_does_not_weigh_nothing() -> None:
    """A weight that kilograms would round away is said in grams."""
    assert told(Weight(grams=Decimal(40)), READER) == "Dam weighed: 40 g"


def _numbered(what: Happening, **more: Any) -> str:  # noqa: ANN401 - any field of a draft
    draft = Draft.model_validate({"at": at(0), "what": what.model_dump(), **more})
    return told_entry(draft.numbered(1, "ash", at(1)), READER)


def test_an_entry_is_told_with_its_note() -> None:
    """What was typed behind the line is part of what was said."""
    assert _numbered(Rest(), note="a walk") == "Stopped pushing; a walk"


@pytest.mark.parametrize(
    ("certainty", "when"),
    [
        ("seen", "on 2 Mar 03:00"),
        ("estimated", "on about 2 Mar 03:00"),
        ("day", "on Mon 2 Mar 2026, time not known"),
    ],
)
def test_a_corrected_time_is_said(certainty: str, when: str) -> None:
    """The new time of a corrected line is told, and how surely it is known."""
    said = _numbered(Amend(target=1, retimed=True), certainty=certainty)

    assert said == f"Correction of entry 1: its time; it happened {when}"


def test_hostile_text_stays_on_its_line() -> None:
    """Nothing that turns a line round or breaks it is passed on."""
    said = told(Note(words="a\nb\x1b[2J\u202egnp"), READER)

    assert said == f"Note: a b{REPLACEMENT}[2J{REPLACEMENT}gnp"


_FREE = {
    "dam", "breed", "zone", "vet", "vet_phone", "night_phone", "rule", "clock", "by", "why", "mark",
    "number", "item", "words", "said", "what", "finding",
}  # fmt: skip
_CLOSED = {"finished.by": {"breeder", "vet", "scan"}, "limit.clock": {"main"}} | {
    "step.finding": {finding for _, finding in FINDING_WORDS}
}
"""Words that a free field may hold and that are told in a phrase of their own."""
_IN_WORDS = {"seconds", "suckle", "rooting", "righting"}
"""Numbers that are told as hours and minutes, or as weak and good."""


def _carried(what: Happening, reader: Reader) -> Iterator[str]:
    """Every number, name and free word that a happening carries, as a reader should find it."""
    for name, value in what:
        field = f"{what.kind}.{name}"
        if isinstance(value, What):
            yield from _carried(value, reader)  # type: ignore[arg-type]
        elif isinstance(value, Decimal):
            yield _amount(what, name, value, reader)
        elif isinstance(value, tuple):
            weighed = (one for one in value if isinstance(one, Weighed))
            yield from (f"pup {one.pup}: {reader.weight(one.grams)}" for one in weighed)
        elif isinstance(value, str):
            yield clean(value) if name in _FREE and value not in _CLOSED.get(field, ()) else ""
        elif isinstance(value, int) and not isinstance(value, bool):
            told_in_words = name in _IN_WORDS or (field, value) == ("afterbirth.count", 1)
            yield "" if told_in_words else str(value)


def _amount(what: What, name: str, value: Decimal, reader: Reader) -> str:
    if name == "celsius":
        return reader.temperature(value)
    if name not in {"grams", "weight", "breed_birth_weight"}:
        return plain(value)
    of_dam = name == "weight" if isinstance(what, Details) else getattr(what, "pup", 0) is None
    return reader.heavy(value) if of_dam and value >= 1000 else reader.weight(value)


def _found(part: str, said: str) -> bool:
    # The sentence begins with a capital, whatever stands there.
    return part in said or part[:1].upper() + part[1:] in said


@given(ANYTHING)
@settings(max_examples=600, deadline=None)
def test_everything_that_was_written_down_is_told(what: Happening) -> None:
    """Any happening is one line that holds every number, name and word it carries."""
    for reader in (READER, AMERICAN):
        said = told(what, reader)

        assert said[:1] == said[:1].upper() != ""
        assert not [char for char in said if unicodedata.category(char) in {"Cc", "Cf", "Zl", "Zp"}]
        for part in _carried(what, reader):
            assert _found(part, said), (part, said)


def test_nothing_is_told_of_a_kind_without_words() -> None:
    """A kind that somebody adds and nobody writes a sentence for is not passed over in silence."""
    with pytest.raises(TypeError, match="What"):
        told(What(), READER)  # type: ignore[arg-type]


def test_times_are_not_told_twice() -> None:
    """The time of an entry stands beside its words and not in them, an estimate too."""
    drafted = Draft(at=NOW, certainty="estimated", what=Rest()).numbered(1, "ash", NOW)

    assert told_entry(drafted, READER) == "Stopped pushing"
