"""What the keeper writes of one pup: its birth, its first minutes, its afterbirth."""

from decimal import Decimal

from boxlamp.imagine.course import NEVER, Pup
from boxlamp.imagine.dice import Dice
from boxlamp.imagine.kennel import MARKS
from boxlamp.imagine.line import Line
from boxlamp.imagine.ours import Exactly, Share, Span
from boxlamp.model.happenings import Afterbirth, Birth, Step, Weight, What
from boxlamp.model.seen import StepName

CORD_SEEN = Exactly(1.5, "min", "a bleeding cord seen after the birth")
_WEIGHED = Share(0.6, "weight in the line of the birth")
_WEIGHED_LATER = Span(8, 16, "min", "else weighed after")
_PRESENTED = Share(0.8, "head or feet first written down")
_AIRWAY = Exactly(9, "s", "airway after the sac")
_BREATHES = Exactly(15, "s", "breath after the sac, at least")
_MARKED = Span(6, 13, "min", "marked after")
_DRIED = Share(0.8, "drying written down")
_DRIED_AT = Span(2, 4.5, "min", "dried after")
_CORD = Share(0.4, "cord written down")
_TIED = Share(0.4, "of these, tied")
_CORD_AT = Span(3, 6, "min", "cord seen to after")
_PALATE = Share(0.4, "palate written down")
_PALATE_AT = Span(8, 15, "min", "palate looked at after")
_GUESSED = Share(0.3, "times of eaten afterbirths that are guessed")


def pup_lines(number: int, pup: Pup, dice: Dice, *, named: bool) -> list[Line]:
    """Everything written of this pup, none of it before its birth.

    ``named`` keepers say whose afterbirth it is, the others only that one came.
    """
    seconds = pup.in_sac or pup.state == "limp"
    weighed = dice.chance(_WEIGHED.of)
    birth = Birth(
        pup=number,
        sex=pup.sex,
        weight=Decimal(pup.grams) if weighed else None,
        state=None if pup.state == "alive" else pup.state,
        presentation=pup.presentation if dice.chance(_PRESENTED.of) else None,
        in_sac=pup.in_sac and pup.alive,
    )
    lines = [Line(pup.born, birth, exact=seconds)]
    lines += _afterbirth(number if named else None, pup, dice)
    if not weighed:
        grams = Decimal(pup.grams)
        lines.append(Line(pup.born + dice.drawn(_WEIGHED_LATER), Weight(pup=number, grams=grams)))
    if pup.alive:
        lines += _first_minutes(number, pup, seconds=seconds)
    if pup.alive and pup.breathes < NEVER:
        lines += _looked_over(number, pup, dice)
    return lines


def _step(number: int, step: StepName, finding: str = "") -> What:
    return Step(step=step, pup=number, finding=finding)


def _first_minutes(number: int, pup: Pup, *, seconds: bool) -> list[Line]:
    """Sac, airway, breath: to the second where seconds count."""
    lines: list[Line] = []
    if pup.in_sac:
        opened = pup.born + pup.sac_opened / 60
        lines.append(Line(opened, _step(number, "sac-open"), exact=True))
        lines.append(Line(opened + _AIRWAY.value / 60, _step(number, "airway"), exact=True))
    breathes = pup.born + max(
        pup.breathes / 60, (pup.sac_opened + _BREATHES.value) / 60 * pup.in_sac
    )
    if breathes < NEVER:
        lines.append(Line(breathes, _step(number, "breathing"), exact=seconds))
    return lines


def _looked_over(number: int, pup: Pup, dice: Dice) -> list[Line]:
    """Dried, cord, mark, palate, first milk; a step may be done and not written down."""
    lines = [Line(pup.born + dice.drawn(_MARKED), _step(number, "marked", MARKS[number - 1]))]
    if dice.chance(_DRIED.of):
        lines.append(Line(pup.born + dice.drawn(_DRIED_AT), _step(number, "dried")))
    if pup.bleeds:
        begins = pup.born + CORD_SEEN.amount
        lines.append(Line(begins, _step(number, "cord", "bleeding"), exact=True))
        lines.append(Line(begins + pup.bleeds, _step(number, "cord", "tied"), exact=True))
    elif dice.chance(_CORD.of):
        finding = "tied" if dice.chance(_TIED.of) else ""
        lines.append(Line(pup.born + dice.drawn(_CORD_AT), _step(number, "cord", finding)))
    if dice.chance(_PALATE.of):
        lines.append(Line(pup.born + dice.drawn(_PALATE_AT), _step(number, "palate", "ok")))
    if pup.milk < NEVER:
        lines.append(Line(pup.born + pup.milk, _step(number, "milk")))
    return lines


def _afterbirth(of: int | None, pup: Pup, dice: Dice) -> list[Line]:
    if pup.afterbirth == NEVER or pup.unseen:
        return []
    what = Afterbirth(of=of, fate="eaten" if pup.eaten else "seen")
    return [Line(pup.born + pup.afterbirth, what, estimated=pup.eaten and dice.chance(_GUESSED.of))]
