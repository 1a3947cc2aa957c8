"""What an entry can say, one frozen model per kind, named in the trade's words.

The union :data:`Happening` is told apart by ``kind``. A pup is referred to by its number:
the order in which births were written down, which never changes afterwards even when a
forgotten birth is added between two others.
"""

from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from boxlamp.model.by_kind import ByKind
from boxlamp.model.quantities import COLDEST_BODY, Amount, Celsius, Grams
from boxlamp.model.seen import (
    BirthState,
    Colour,
    DamSign,
    MilestoneName,
    Presentation,
    PupSign,
    Sex,
    SignName,
    StepName,
)

PupNumber = Annotated[int, Field(ge=1, le=99)]
EntryNumber = Annotated[int, Field(ge=1)]
Words = Annotated[str, Field(max_length=4000)]
Name = Annotated[str, Field(max_length=500)]


class What(BaseModel):
    """Base of every happening: frozen, and nothing unknown is let in."""

    # Each kind builds its validator when it is first met, see `ByKind`.
    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)


class Details(What):
    """Facts about the dam and the people around her; a later one adds to or replaces earlier."""

    kind: Literal["details"] = "details"
    dam: Name | None = None
    breed: Name | None = None
    age_years: Amount | None = None
    weight: Grams | None = None
    breed_birth_weight: Grams | None = None
    """The mean weight of a newborn pup of this breed, where a person knows one."""
    first_litter: bool | None = None
    flat_faced: bool | None = None
    toy: bool | None = None
    earlier_dystocia: bool | None = None
    earlier_caesarean: bool | None = None
    zone: Name | None = None
    vet: Name | None = None
    vet_phone: Name | None = None
    night_phone: Name | None = None
    travel_minutes: Annotated[int, Field(ge=0, le=1440)] | None = None


class Limit(What):
    """A limit changed for this litter on a vet's word. Never-relaxed rules refuse loosening."""

    kind: Literal["limit"] = "limit"
    rule: Name
    clock: Name = "main"
    level: Literal["watch", "call", "go"]
    seconds: Annotated[int, Field(ge=0, le=366 * 86400)]
    by: Name
    why: Words


class Mating(What):
    """She was mated or inseminated on this day."""

    kind: Literal["mating"] = "mating"


class Ovulation(What):
    """Evidence of ovulation. For progesterone the value is in ng/mL."""

    kind: Literal["ovulation"] = "ovulation"
    basis: Literal["ovulation", "lh", "progesterone-rise", "progesterone", "dioestrus"]
    value: Amount | None = None


class Scan(What):
    """An ultrasound scan or x-ray: pups counted, or one measurement in millimetres."""

    kind: Literal["scan"] = "scan"
    method: Literal["xray", "ultrasound"]
    count: Annotated[int, Field(ge=0, le=30)] | None = None
    measure: Literal["icc", "bpd"] | None = None
    millimetres: Amount | None = None


class Expect(What):
    """How many pups are expected, and how that is known."""

    kind: Literal["expect"] = "expect"
    count: Annotated[int, Field(ge=0, le=30)]
    method: Literal["xray", "scan", "guess"] = "guess"


class Temperature(What):
    """A rectal temperature (dam or one pup) or the box temperature at pup level, in °C."""

    kind: Literal["temperature"] = "temperature"
    celsius: Celsius
    where: Literal["dam", "pup", "box"] = "dam"
    pup: PupNumber | None = None

    @model_validator(mode="after")
    def _no_body_is_so_cold(self) -> Self:
        if self.where != "box" and self.celsius < COLDEST_BODY:
            raise ValueError(f"no body temperature is under {COLDEST_BODY} °C")
        return self


class Sign(What):
    """First-stage signs seen."""

    kind: Literal["sign"] = "sign"
    signs: Annotated[tuple[SignName, ...], Field(min_length=1)]


class Settled(What):
    """The first-stage signs have gone and she has settled."""

    kind: Literal["settled"] = "settled"


class Waters(What):
    """The waters broke."""

    kind: Literal["waters"] = "waters"
    colour: Colour = "unknown"


class Sac(What):
    """A sac (water bag) is at the vulva."""

    kind: Literal["sac"] = "sac"


class Part(What):
    """A part of a pup is showing at the vulva."""

    kind: Literal["part"] = "part"
    part: Literal["head", "feet", "tail", "rump", "unknown"] = "unknown"


class Contraction(What):
    """A visible push. Unspecified strength counts as strong: the careful reading."""

    kind: Literal["contraction"] = "contraction"
    strength: Literal["strong", "weak", "unspecified"] = "unspecified"


class Rest(What):
    """She has stopped pushing; ``sac_gone`` when a sac that was showing has slipped back."""

    kind: Literal["rest"] = "rest"
    sac_gone: bool = False


class Birth(What):
    """A pup is out. Everything but its number may be added later."""

    kind: Literal["birth"] = "birth"
    pup: PupNumber
    sex: Sex | None = None
    weight: Grams | None = None
    mark: Name | None = None
    state: BirthState | None = None
    presentation: Presentation | None = None
    in_sac: bool = False


class Sexed(What):
    """The sex of a pup, seen after its birth was written down."""

    kind: Literal["sex"] = "sex"
    pup: PupNumber
    sex: Sex


class Afterbirth(What):
    """Afterbirth seen, eaten by the dam, or looked for and not seen.

    Without ``of`` each one settles the oldest debt.
    """

    kind: Literal["afterbirth"] = "afterbirth"
    of: PupNumber | None = None
    count: Annotated[int, Field(ge=1, le=30)] = 1
    fate: Literal["seen", "eaten", "not-seen"] = "seen"


class Discharge(What):
    """Discharge from the vulva: colour, amount, smell."""

    kind: Literal["discharge"] = "discharge"
    colour: Colour = "unknown"
    amount: Literal["streak", "some", "heavy", "clots", "none"] = "some"
    foul: bool = False


class Step(What):
    """Something done for, or seen in, a newborn pup.

    ``finding`` belongs to some steps: cord ``tied``, ``bleeding`` or ``stopped``; palate ``ok``
    or ``cleft``; marked carries the mark itself.
    """

    kind: Literal["step"] = "step"
    step: StepName
    pup: PupNumber
    finding: Name = ""


ScoreItem = Annotated[int, Field(ge=0, le=2)]


class Score(What):
    """Viability score: heart rate, breathing, reflex, movement, colour; each 0-2 or not taken."""

    kind: Literal["score"] = "score"
    pup: PupNumber
    items: tuple[
        ScoreItem | None, ScoreItem | None, ScoreItem | None, ScoreItem | None, ScoreItem | None
    ]


class Reflexes(What):
    """Newborn reflexes, each 0 absent, 1 weak, 2 good, or not tested."""

    kind: Literal["reflexes"] = "reflexes"
    pup: PupNumber
    suckle: ScoreItem | None = None
    rooting: ScoreItem | None = None
    righting: ScoreItem | None = None


class Weight(What):
    """A pup on the scale (or the dam, when ``pup`` is missing), in grams."""

    kind: Literal["weight"] = "weight"
    pup: PupNumber | None = None
    grams: Grams


class Weighed(BaseModel):
    """One pup of a weighing round, in grams."""

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)

    pup: PupNumber
    grams: Grams


class Round(What):
    """A whole weighing round in one line. To every reader of a story it is that many weights."""

    kind: Literal["round"] = "round"
    weights: Annotated[tuple[Weighed, ...], Field(min_length=1, max_length=99)]


class Feed(What):
    """A pup fed: at the teat, by bottle or by tube, with millilitres where measured."""

    kind: Literal["feed"] = "feed"
    pup: PupNumber
    how: Literal["teat", "bottle", "tube"] = "teat"
    millilitres: Amount | None = None


class PupState(What):
    """How one pup looks now."""

    kind: Literal["pup-state"] = "pup-state"
    pup: PupNumber
    signs: Annotated[tuple[PupSign, ...], Field(min_length=1)]


class Death(What):
    """A pup has died. A breath seen after it takes it back: see `model/revived.py`."""

    kind: Literal["death"] = "death"
    pup: PupNumber
    why: Words = ""


class Milestone(What):
    """Something reached by, or done for, one pup, or the whole litter when ``pup`` is missing.

    ``number`` belongs to ``chipped``: the transponder's number as it was read.
    """

    kind: Literal["milestone"] = "milestone"
    milestone: MilestoneName
    pup: PupNumber | None = None
    number: Name = ""


class Kit(What):
    """One item of the preparation list is ready, or no longer so."""

    kind: Literal["kit"] = "kit"
    item: Name
    have: bool = True


class DamState(What):
    """How the dam looks now."""

    kind: Literal["dam-state"] = "dam-state"
    signs: Annotated[tuple[DamSign, ...], Field(min_length=1)]


class Treatment(What):
    """A treatment that was given, recorded only. The program never holds or suggests a dose."""

    kind: Literal["treatment"] = "treatment"
    what: Words
    by: Name = ""


class VetContact(What):
    """The vet was called, advised, came, or saw her."""

    kind: Literal["vet"] = "vet"
    contact: Literal["called", "advised", "arrived", "seen", "left-for"]
    said: Words = ""


class Caesarean(What):
    """A caesarean was done. Pups delivered by it are written down as births after it."""

    kind: Literal["caesarean"] = "caesarean"


class Finished(What):
    """The whelping is over, in the breeder's judgement or the vet's."""

    kind: Literal["finished"] = "finished"
    by: Literal["breeder", "vet", "scan"] = "breeder"


class Note(What):
    """Free words. ``unread`` marks a line the program could not understand and kept whole."""

    kind: Literal["note"] = "note"
    words: Words = ""
    unread: bool = False


class Ack(What):
    """A person has taken notice of one rule's alert, or of all that stand (``rule`` missing)."""

    kind: Literal["ack"] = "ack"
    rule: Name | None = None


class Strike(What):
    """An earlier entry is withdrawn. It stays in the journal and stays visible."""

    kind: Literal["strike"] = "strike"
    target: EntryNumber
    why: Words = ""


Fact = (
    Details | Limit | Mating | Ovulation | Scan | Expect | Temperature | Sign | Settled | Waters
    | Sac | Part | Contraction | Rest | Birth | Sexed | Afterbirth | Discharge | Step | Score
    | Reflexes | Weight | Round | Feed | PupState | Death | Milestone | Kit | DamState | Treatment
    | VetContact | Caesarean | Finished | Note | Ack
)  # fmt: skip
"""Everything an entry can say about the world. Corrections are not facts about the world."""


class Amend(What):
    """A correction of an earlier entry: its time, what it says, or both."""

    kind: Literal["amend"] = "amend"
    target: EntryNumber
    what: Annotated[Fact, ByKind()] | None = None
    retimed: bool = False
    """True when this entry's own time replaces the target's."""


Happening = Annotated[Fact | Amend | Strike, ByKind()]
