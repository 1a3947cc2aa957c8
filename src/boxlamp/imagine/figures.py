"""The numbers a night is drawn from, with their sources and how far those were verified.

None of these is a limit. They say how whelpings go, as far as that was published; where it was
not, the number is our choice and is called so: here, or at the top of the module that draws it
(see ``ours``). No number was chosen to please a protocol.
"""

from math import log
from typing import Literal, NamedTuple

from boxlamp.growth.cited import Cited
from boxlamp.imagine.imagined import Size

Method = Literal["xray", "scan", "guess"]


class Figure(NamedTuple):
    """One number, and where it comes from."""

    value: float
    cited: Cited


class Lognormal(NamedTuple):
    """A time in minutes (seconds where the name says so): its median, sigma, and origin."""

    median: float
    sigma: float
    cited: Cited


class Bell(NamedTuple):
    """A normally distributed number: mean, standard deviation, and origin."""

    mean: float
    spread: float
    cited: Cited


def _central(low: float, high: float, cited: Cited) -> Lognormal:
    """A range that was called usual, read as holding 95 in 100."""
    return Lognormal((low * high) ** 0.5, log(high / low) / (2 * 1.96), cited)


def _ours(says: str) -> Cited:
    return Cited(says, "C")


_HOLLINSHEAD = ("Litter size by the size of the dam, 1,203 inseminations", "PMID 28708517 (2017)")
_S10 = ("Proceedings abstract, 1,615 pregnant bitches of 124 breeds", "authors not visible")
_TSUTSUI = (
    "Variations in Body Temperature in the Late Stage of Pregnancy and Parturition in Bitches",
    "Jpn J Vet Sci 1982",
)

# How many.

LITTER: dict[Size, Bell] = {
    "small": Bell(4.4, 2.1, Cited("4.4 ± 2.1 pups, small dams.", "A", *_HOLLINSHEAD)),
    "medium": Bell(5.2, 2.9, Cited("5.2 ± 2.9 pups, medium dams.", "A", *_HOLLINSHEAD)),
    "large": Bell(5.9, 2.9, Cited("5.9 ± 2.9 pups, large dams.", "A", *_HOLLINSHEAD)),
    "giant": Bell(6.7, 3.8, Cited("6.7 ± 3.8 pups, giant dams.", "A", *_HOLLINSHEAD)),
}
LARGEST = Figure(
    24,
    Cited("Litters of 1 to 24.", "A", "Chastant-Maillard S. et al., 37,946 litters",
          "Reprod Domest Anim 2017;52(S2):158-162", "doi:10.1111/rda.12845"),
)  # fmt: skip
SIZES_SHARE: tuple[tuple[Size, float], ...] = (
    ("small", 0.30), ("medium", 0.25), ("large", 0.35), ("giant", 0.10),
)  # fmt: skip
SIZES_CITED = _ours(
    "How often each size is drawn; made so that all litters together have the published 5.4 pups."
)
TROUBLED = Figure(
    0.16,
    Cited(
        "84 of 100 whelpings were normal. That the other 16 share all troubles named here, those "
        "of the days after among them, is our choice.",
        "X",
        *_S10,
    ),
)
STILLBORN = Figure(
    0.043,
    Cited(
        "4.3 of 100 pups were stillborn.", "A", "Tønnessen R. et al., 10,810 litters",
        "Theriogenology 2012;77:1788-1801", "doi:10.1016/j.theriogenology.2011.12.023",
    ),
)  # fmt: skip
STILLBORN_IF_HARD = Figure(
    2.35,
    Cited("2.35 times as many stillborn after a hard whelping.", "X",
          "Cornelius A.J. et al., 2,489 litters", "Theriogenology 2019;128:201-206"),
)  # fmt: skip
STILLBORN_AFTER_LONG = Figure(
    0.05,
    _ours("Added for each hour of a gap beyond two; that it rises was published, not how fast."),
)
HIND_FIRST = Figure(
    0.40, Cited("About 40 of 100 pups come hindquarters first.", "X", "Veterinary answer page")
)
LIMP = Figure(0.03, _ours("Pups that come limp in an easy whelping and breathe once rubbed."))
IN_SAC = Figure(0.25, _ours("Pups that come with the sac still over the head."))

# The days and hours before.

GESTATION = Bell(
    63.1, 2.1,
    Cited("63.1 ± 2.1 days from ovulation.", "A", "Mir F. et al., 162 pregnancies",
          "Reprod Domest Anim 2011"),
)  # fmt: skip
MATED_BEFORE_OVULATION = Bell(1.0, 1.5, _ours("Days from the first mating to ovulation."))
LAST_GOOD_DAY = Figure(
    65,
    Cited("More than some two days past the usual 63 an afterbirth may fail its pup.", "X",
          "Lopate", "2018"),
)  # fmt: skip
FIRST_STAGE = Lognormal(
    600, 0.38,
    _ours("6-12 h by six sources, 12-24 h by two: a median of 10 h, one in 100 over 24 h."),
)  # fmt: skip
WARM = Figure(
    38.0, Cited("38.0 °C on average two or three days before.", "A", *_TSUTSUI, "45 bitches")
)
LOW_BEFORE_BIRTH = Bell(
    21.5, 5.4,
    Cited("21.5 h (13-33) from the first reading of 37.5 °C or less to birth.", "A", *_TSUTSUI,
          "standard deviation from the standard error of 0.8"),
)  # fmt: skip
LOW_LEAST = Figure(13, LOW_BEFORE_BIRTH.cited)
LOW_MOST = Figure(33, LOW_BEFORE_BIRTH.cited)
LOW = Figure(37.5, LOW_BEFORE_BIRTH.cited)
LOWEST = Figure(37.0, Cited("37.0 °C ten hours before birth.", "A", *_TSUTSUI))
JUST_BEFORE = Figure(37.4, Cited("37.4 °C one hour before birth.", "A", *_TSUTSUI))
DROPS = Figure(
    0.80,
    Cited("About 80 of 100 bitches show the fall.", "X",
          "AKC Canine Health Foundation, interview", "2015"),
)  # fmt: skip
_SCHULZE = Cited(
    "Healthy dams on the day of whelping and on each of the seven days after it.", "A",
    "Schulze et al.", "Reprod Domest Anim 2018", "doi:10.1111/rda.13330",
)  # fmt: skip
DAILY_WARMTH: tuple[Bell, ...] = (
    Bell(38.8, 0.40, _SCHULZE), Bell(38.9, 0.47, _SCHULZE), Bell(38.9, 0.35, _SCHULZE),
    Bell(38.7, 0.31, _SCHULZE), Bell(38.8, 0.30, _SCHULZE), Bell(38.6, 0.35, _SCHULZE),
    Bell(38.5, 0.27, _SCHULZE), Bell(38.4, 0.34, _SCHULZE),
)  # fmt: skip
"""Rectal temperature on the days 0 to 7; what comes later is drawn like the last of them."""
OVULATION_KNOWN = Figure(0.5, _ours("Dams whose day of ovulation was told by blood tests."))
READING_OFF = Figure(0.1, _ours("Standard deviation, in °C, of one reading with a thermometer."))

# The whelping.

FIRST_PUP = Lognormal(
    30, 0.9, _ours("First strain to first pup; made to fit the published up to 2 and up to 4 h.")
)
FIRST_PUP_MOST = Figure(
    240, _ours("No first pup comes later: by the books it usually comes within 4 h of the strain.")
)
INTERVAL = Lognormal(
    35, 0.75,
    _ours(
        "From pup to pup; made to fit the published ranges: mean 46 min, 5 in 100 over 2 h. "
        "Whole whelpings come out shorter than the one published mean of 6.9 h."
    ),
)  # fmt: skip
HARD_RUN = Figure(
    2.5, _ours("Gaps are 2 to 3 times as long in a hard whelping, to come nearer 6.9 ± 5.6 h.")
)
HARD_RUN_GIVE = Figure(0.5, _ours("So much less or more, from whelping to whelping."))
HARD_LABOUR = _central(
    10, 30, Cited("A pup comes after 10-30 min of hard labour.", "X",
                  "Coates J., Dystocia in Dogs", "2013"),
)  # fmt: skip
NEXT_HARD_LABOUR = _central(
    5, 20, _ours("Hard labour before each later pup: shorter, for the way is open.")
)
WATERS_BEFORE = Lognormal(25, 0.6, _ours("The waters go before the first pup."))
AFTERBIRTH = _central(
    5, 15, Cited("An afterbirth follows its pup in 5-15 min.", "X", "Humm K.",
                 "WSAVA/FECAVA/BSAVA Congress 2012"),
)  # fmt: skip
GROUPED = Figure(
    0.20,
    _ours("Afterbirths that come with or after the next pup; that some do was published."),
)
EATEN = Figure(0.08, _ours("Afterbirths she eats while somebody looks."))
UNSEEN = Figure(0.02, _ours("Afterbirths she eats unseen; that counts are unreliable is known."))
OVER_AFTER = Lognormal(75, 0.35, _ours("Calm after the last pup before somebody says: over."))

# The pup.

BREATHES = Lognormal(35, 0.55, _ours("Seconds until a limp pup breathes once it is rubbed."))
SAC_OPENED = Lognormal(15, 0.4, _ours("Seconds until the sac over a head is opened."))
FIRST_MILK = Lognormal(
    24, 0.45, _ours("First milk; within 1-2 h by the books, from memory, and most far sooner.")
)
WITHIN_LITTER = Figure(
    0.75, _ours("Of the spread of birth weights in a breed, the share inside one litter.")
)
DOG_HEAVIER = Figure(
    0.03,
    Cited("Dog pups 24 g heavier, Labradors: 3 in 100 either way of the middle.", "A",
          "Schelling C. et al., 7,827 pups", "BMC Vet Res 2019;15:395"),
)  # fmt: skip

# What was counted beforehand.

COUNTED_BY: tuple[tuple[Method, float], ...] = (("xray", 0.65), ("scan", 0.2), ("guess", 0.15))
COUNTED_CITED = _ours("How pups were counted beforehand.")
XRAY_RIGHT = Figure(0.93, _ours("X-ray counts that are right; else one pup too few or too many."))
SCAN_RIGHT = Figure(
    0.65,
    Cited("Scan counts right in 65 of 100, within one pup in 89.5.", "A", "Lenard Z.M. et al.",
          "Aust Vet J 2007;85:222-225", "76 bitches"),
)  # fmt: skip
SCAN_WITHIN_ONE = Figure(0.895, SCAN_RIGHT.cited)

# What goes wrong.

_DARVELID = (
    "Darvelid A.W., Linde-Forsberg C., 182 dystocias", "J Small Anim Pract 1994",
    "doi:10.1111/j.1748-5827.1994.tb03863.x",
)  # fmt: skip
_LABOUR_SHARE = 0.6
HABITS = _ours(
    "What is noticed how late, how often a step is written down, when a time is guessed."
)
COURSE_OF_TROUBLE = _ours(
    "When it begins, how long it takes, how often it is mild and how many pups it costs; together "
    "the hard births lose about as many pups as the published 22 in 100 of 182 (Darvelid 1994)."
)
WITHIN_KIND = _ours("How often each trouble comes among the troubles of its kind.")
KINDS: dict[str, Figure] = {
    "labour": Figure(
        _LABOUR_SHARE * 0.753,
        Cited("Of hard births 75.3 in 100 have their cause in the dam. That six troubles in ten "
              "are of the birth itself is our choice.", "A", *_DARVELID),
    ),
    "passage": Figure(
        _LABOUR_SHARE * 0.247,
        Cited("Of hard births 24.7 in 100 have their cause in a pup.", "A", *_DARVELID),
    ),
    "newborn": Figure(0.22, _ours("Troubles of the newborn among all troubles.")),
    "dam": Figure(0.18, _ours("Troubles of the dam outside the birth among all troubles.")),
}  # fmt: skip

# The days after.

_SACN = ("Small Animal Clinical Nutrition, 5th edition", "Table 16-1")
GAIN_FIRST_WEEK = Figure(
    0.09, Cited("8 (5-10) in 100 a day in the first week. That 9 is drawn, after half a day "
                "without gain, is our choice: pups double by the published 7-10 days.", "T",
                *_SACN),
)  # fmt: skip
GAIN_LATER = Figure(0.05, Cited("5 (3.5-6) in 100 a day in weeks two to four.", "T", *_SACN))
