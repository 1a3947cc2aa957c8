"""What stands on the blank sheet's page of limits: which clocks and readings, and when they apply.

Each row says what is seen in words that need no program, with the condition of its rule: a low
temperature is ordinary before labour and dangerous after it. The numbers come from the book.
"""

from datetime import timedelta
from typing import NamedTuple

from boxlamp.model.levels import Level
from boxlamp.model.quantities import plain
from boxlamp.model.spans import in_words
from boxlamp.paper.reader import Reader
from boxlamp.protocol.book import Book, Key

_ALWAYS = "At any time"
_BEFORE = "Before and during the whelping"
_AFTER = "Afterwards: it is over, or no push for {calm} after the last pup"
_PUP = "Each pup"

GROUPS = (_ALWAYS, _BEFORE, _AFTER, _PUP)
"""In the order of the night. A title may hold numbers, as a row may."""


class LimitRow(NamedTuple):
    """One clock or one reading of a rule, and what a person sees when it counts.

    ``words`` begin small, because several may share a line; ``{name}`` stands for a number of
    the protocol (see ``numbers``). Rows with the same words share a line.
    """

    group: str
    rule: str
    clock: str
    words: str

    @property
    def key(self) -> Key:
        """What the protocol calls it."""
        return self.rule, self.clock


def _rows(group: str, *told: tuple[str, str, str]) -> tuple[LimitRow, ...]:
    return tuple(LimitRow(group, *one) for one in told)


ROWS = (
    *_rows(
        _ALWAYS,
        ("dam-collapse", "main", ("she collapses, has a fit, is rigid, cannot stand or does not "
         "respond, or her gums are pale or blue")),
        ("bleeding", "heavy", "heavy bleeding, or clots"),
        ("foul-discharge", "ill", ("foul, pus-like or yellow discharge while she is dull, refuses "
         "food or has {foul_fever} or more")),
        ("udder", "dark", "a gland of the udder is purple or black"),
        ("foul-discharge", "main", "foul, pus-like or yellow discharge"),
        ("dam-vomiting", "main", "she vomits {vomits} times within {vomits_within}"),
        ("dam-vomiting", "dull", "she vomits and is dull"),
        ("bleeding", "some", "fresh blood, more than a streak"),
    ),
    *_rows(
        _BEFORE,
        ("afterbirths-behind", "main", "{behind} or more afterbirths owed at once"),
        ("afterbirth-surplus", "main", "more afterbirths than pups"),
        ("temperature-drop-no-labour", "main", ("temperature dropped ({low} or less twice "
         "within {confirmed}, or {sure} or less once), no labour since")),
        ("temperature-back-no-labour", "main", ("temperature dropped so and back at {back} or "
         "more, no labour")),
        ("first-stage-long", "main", ("first stage (restless, nesting, panting, shivering, "
         "digging, off her food)")),
        ("waters-no-pup", "main", "waters broken, no pup since"),
        ("sac-no-pup", "main", "a sac (water bag) at the vulva, no pup"),
        ("contraction-no-pup", "main", ("strong contractions, no pup; from the first one after a "
         "pup or a rest; a rest takes no call or go back")),
        ("weak-contraction-no-pup", "main", "weak contractions, no pup; counted in the same way"),
        ("part-showing", "main", "part of a pup showing, even while she rests"),
        ("green-before-first-pup", "main", ("green or black discharge or waters before the first "
         "pup")),
        ("gap-more-expected", "main", "since the last pup, more are expected; pushing or resting"),
        ("gap-count-unknown", "main", "since the last pup, the number is not known"),
        ("litter-short", "calm", ("since the last pup, no push since, and fewer pups than the "
         "x-ray counted")),
        ("second-stage-long", "main", "since her first push or pup, in all"),
        ("afterbirth-owed", "main", "a pup's afterbirth not seen since its birth"),
        ("dam-hot", "before", "her temperature before and while she whelps"),
        ("dam-hot", "labour", "her temperature before and while she whelps"),
    ),
    *_rows(
        _AFTER,
        ("dam-tremor", "main", ("she is stiff, staring or unsteady, or trembles and rubs her face "
         "(these from the first pup on); she trembles, with the whelping over")),
        ("dam-cold", "weak", ("she is dull, cannot stand or has collapsed, with a temperature "
         "below {cold}")),
        ("afterbirth-missing-at-end", "ill", ("an afterbirth is missing and she is dull, pushes "
         "again, has {missing_fever} or more, or a foul discharge")),
        ("litter-short", "finished", "whelping over, fewer pups than the x-ray counted"),
        ("dam-hot", "again", "{fever} or more in two readings {apart} apart"),
        ("dam-hot", "ill", ("{fever} or more while she is dull, refuses food, vomits or has a foul "
         "discharge")),
        ("udder", "main", "a gland of the udder is hot, hard or painful"),
        ("litter-short", "finished-scan", "whelping over, fewer pups than the scan counted"),
        ("dam-hot", "day 0-3", "her temperature high, up to {first_days} after the last pup"),
        ("dam-cold", "main", "her temperature low after whelping; before it that is ordinary"),
        ("afterbirth-missing-at-end", "main", ("whelping over, an afterbirth missing; time since "
         "the last pup")),
        ("green-after-whelping", "main", "green or black discharge; time since the last pup"),
        ("dam-off-food", "main", "she refuses food; in labour that is ordinary"),
    ),
    *_rows(
        _PUP,
        ("pup-sign", "gasping", "it gasps, older than {newborn}"),
        ("pup-sign", "blue", "it is blue, older than {newborn}"),
        ("pup-sign", "fits", "fits, at any age"),
        ("pup-sign", "pale", "pale gums"),
        ("pup-sign", "bloated", "a swollen, tight belly"),
        ("pup-sign", "laboured-breathing", "hard breathing"),
        ("pup-sign", "milk-at-nose", "milk at the nose"),
        ("pup-sign", "cleft-palate", "a cleft palate"),
        ("sac-on-pup", "main", "still in its sac"),
        ("not-breathing", "main", ("not breathing, at any age; limp, gasping or blue in its first "
         "{newborn}")),
        ("pup-sign", "limp", "it is limp, older than {newborn}"),
        ("cord-bleeding", "main", "its cord bleeds"),
        ("first-milk", "main", "no first milk since its birth"),
        ("nursing-gap", "main", "since its last feed, when its feeds are written down"),
        ("pup-sign", "weak", "it is weak"),
        ("pup-sign", "crying", "it cries on, older than {newborn}"),
        ("pup-cold", "hour 1-24", "its temperature low on its first day, from {cold_from} on"),
        ("pup-hot", "hour 1-24", "its temperature high on its first day, from {cold_from} on"),
        ("viability", "middle", "viability score"),
        ("viability", "low", "viability score"),
        ("viability", "late", "viability score from {late_from} of age on"),
        ("viability", "fall", "viability score fallen by"),
    ),
)  # fmt: skip
"""Every clock and reading on the sheet; where several are done at once, in this order."""


def numbers(book: Book, reader: Reader) -> dict[str, str]:
    """The numbers that the words of rows hold, in the reader's units."""

    def warm(rule: str, clock: str, level: Level) -> str:
        return reader.sentence(f"{plain(book.edge(rule, clock, level))} °C")

    def long(rule: str, name: str) -> str:
        return length(timedelta(seconds=float(book.number(rule, name))))

    drop = "temperature-drop-no-labour"
    return {
        "low": warm(drop, "low", Level.WATCH),
        "sure": warm(drop, "sure", Level.WATCH),
        "confirmed": long(drop, "confirm-within"),
        "back": warm("temperature-back-no-labour", "back", Level.WATCH),
        "foul_fever": warm("foul-discharge", "fever", Level.GO),
        "missing_fever": warm("afterbirth-missing-at-end", "fever", Level.GO),
        "fever": warm("dam-hot", "fever", Level.PROMPT),
        "apart": long("dam-hot", "twice-apart"),
        "first_days": long("dam-hot", "first-days"),
        "cold": warm("dam-cold", "main", Level.WATCH),
        "calm": long("dam-cold", "calm"),
        "vomits": plain(book.number("dam-vomiting", "how-many")),
        "vomits_within": long("dam-vomiting", "within"),
        "behind": plain(book.number("afterbirths-behind", "how-many")),
        "newborn": long("not-breathing", "newborn-for"),
        "cold_from": long("pup-cold", "from hour 1-24"),
        "late_from": long("viability", "late-from"),
    }


def length(span: timedelta) -> str:
    """A length of time without needless noughts: ``2 h``, ``1 h 30 min``, ``at once``."""
    return in_words(span).removesuffix(" 00 min") if span else "at once"
