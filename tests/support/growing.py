"""An invented litter on the scale, and weight tables for tests."""

from datetime import UTC, datetime, timedelta

from boxlamp.engine import Verdict, assess
from boxlamp.growth.table import WeightTable, weight_table
from boxlamp.language import read_night
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Weight, What
from boxlamp.model.story import Story
from boxlamp.rules.registry import BY_ID
from support.made import told
from support.nights import DEFAULT

ZONE = "Europe/Prague"
BRAMBLE = """dam: Bramble
breed: Border Terrier
weight: 7.2kg
zone: Europe/Prague
date: 2026-03-02
expected: 7 xray

22:30 contraction strong
23:10 pup dog 312g red
23:40 pup bitch 298g blue
00:25 pup dog 341g white
01:10 pup bitch 268g green
01:50 pup dog 305g black
02:30 pup bitch 222g pink
02:50 pup dog 190g dead
03:30 finished
2026-03-03 20:05 round red 313 blue 297 white 345 green 260 black 305 pink 210
2026-03-04 08:05 round red 326 blue 308 white 361 green 263 black 316 pink 208
2026-03-05 08:05 round red 347 blue 326 white 387 green 273 black 341 pink 207
2026-03-05 20:10 died green
2026-03-06 08:04 weigh red 373g
2026-03-06 08:08 weigh blue 345g
2026-03-06 08:12 weigh white 417g
2026-03-06 08:20 weigh black 367g
2026-03-06 08:24 weigh pink 221g
2026-03-06 20:00 weigh pink 226g
2026-03-07 08:05 round red 402 blue 364 white 451 black 394 pink 233
2026-03-08 08:05 round red 430 blue 384 white 492 black 423 pink 246
2026-03-09 08:05 round red 464 blue 410 white 535 black 453 pink 260
2026-03-10 08:05 round red 498 blue 436 white 574 black 489 pink 273
2026-03-11 08:05 round red 528 blue 466 white 617 black 524 pink 289
2026-03-12 08:05 round red 570 blue 493 white 665 black 563 pink 305
2026-03-12 08:30 temp pup pink 34.6
"""
"""Seven pups: one that lost weight and gained late, one that died, one born dead."""

ON_THE_SCALE = tuple(
    BY_ID[rule]
    for rule in ("birth-weight", "weight-loss", "weight-stalled", "weight-slow", "not-doubled",
                 "litter-slow", "weighing-due")
)  # fmt: skip
"""The rules that a weight table shows."""

BORN = datetime(2026, 3, 2, 22, 10, tzinfo=UTC)
"""When the first of them was born."""
NINTH_DAY = datetime(2026, 3, 12, 8, 0, tzinfo=UTC)


def verdict(entries: tuple[Entry, ...], at: datetime) -> Verdict:
    """What the rules about weights make of these entries at a moment."""
    return assess(Story(entries).until(at), DEFAULT, ON_THE_SCALE).verdict(at)


def table_of(text: str, at: datetime) -> WeightTable:
    """The weight table of a night log at a moment."""
    return weight_table(verdict(read_night(text, source="a test").entries, at))


def bramble(at: datetime = NINTH_DAY) -> WeightTable:
    """The invented litter at a moment."""
    return table_of(BRAMBLE, at)


def made(*lines: tuple[float, What], after: float = 0) -> WeightTable:
    """The table of entries made by hand, at the last of them or so many minutes later."""
    entries = told(*lines)
    at = max(entry.at for entry in entries) + timedelta(minutes=after)
    return weight_table(verdict(entries, at))


def born(pup: int, grams: float | None = None, state: str = "alive") -> Birth:
    """A birth, with its weight if there is one."""
    return Birth.model_validate(
        {"pup": pup, "state": state, "weight": None if grams is None else str(grams)}
    )


def weighed(pup: int, grams: float) -> Weight:
    """A pup on the scale."""
    return Weight.model_validate({"pup": pup, "grams": str(grams)})
