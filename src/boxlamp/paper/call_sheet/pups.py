"""The pups on a call sheet: which live, which are not well, and in the weeks after their weight."""

from collections.abc import Iterator
from datetime import timedelta

from boxlamp.engine import Alert
from boxlamp.growth.latest import Gain, Latest, latest, scales_of
from boxlamp.model.happenings import Feed, Temperature
from boxlamp.model.levels import Level, pup_subject
from boxlamp.model.litter import Pup
from boxlamp.paper.call_sheet.facts import Fact, Known, Topic
from boxlamp.paper.call_sheet.pup_notes import noted_of, words_of
from boxlamp.paper.call_sheet.pup_signs import shown, told_signs
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import capital, listed, pups_listed
from boxlamp.rules import pup_cold, pup_hot, pup_sign, viability
from boxlamp.view.text import counted
from boxlamp.view.weights_words import change_words

_TURNS: tuple[Topic, ...] = ("sickest pup", "second pup", "third pup")
_SHOWN = len(_TURNS)
# Our choices: how old a reading of the box may be, and from when on the age of pups is told.
_BOX_HOURS = timedelta(hours=12)
_OLD = timedelta(days=2)
_DAY = timedelta(days=1)
# What is seen or felt in a pup itself, and not on the scale or by the clock.
_SEEN = frozenset({pup_sign.ID, pup_cold.ID, pup_hot.ID, viability.ID})
_EVERY = None  # all signs of a pup


def litter_age(teller: Teller) -> Known:
    """In the weeks after: how old the pups are and how many are still here."""
    litter, now = teller.verdict.litter, teller.verdict.at
    last = litter.last_birth
    if last is None or now - last < _OLD or not litter.alive:
        return Known(())
    here = sum(pup.here for pup in litter.in_order)
    gone = litter.alive - here
    words = f"The pups are {(now - last).days} days old; {here} still here"
    words += f", {gone} left home" if gone else ""
    return Known((Fact("assessment", "age", f"{words}.", ("",), "past"),))


def box(teller: Teller) -> Known:
    """How warm it is where the pups lie, as long as that was looked at within some hours."""
    readings = [
        (entry, entry.what.celsius)
        for entry in teller.verdict.story.of(Temperature)
        if isinstance(entry.what, Temperature) and entry.what.where == "box"
    ]
    here = any(pup.here for pup in teller.verdict.litter.in_order)
    if not readings or not here or teller.verdict.at - readings[-1][0].at > _BOX_HOURS:
        return Known(())
    entry, celsius = readings[-1]
    words = f"{teller.reader.temperature(celsius)} {teller.noted(entry)}."
    return Known((Fact("assessment", "in the box", words, ("",), "box"),))


def pup_facts(teller: Teller) -> Known:
    """A line for each pup that is not well; the most pressing ones first, the rest counted."""
    poor = _not_well(teller)
    if not poor:
        return Known(())
    stands = latest(teller.verdict) if teller.stage == "after" else {}
    facts = [
        _fact(pup, stands.get(pup.number), teller, place) for place, pup in enumerate(poor[:_SHOWN])
    ]
    rest = poor[_SHOWN:]
    if rest:
        words, fewer = (f"{capital(_together(rest, teller, most))}." for most in (_EVERY, 2))
        facts.append(Fact("assessment", "also poorly", words, (fewer, ""), "other pups"))
    return Known(tuple(facts))


def pup_notes(teller: Teller) -> Known:
    """What was written behind lines about pups that show no sign; those are told with theirs."""
    poor = {pup.number for pup in _not_well(teller)[:_SHOWN]}
    told = [
        f"{teller.pup(pup)} {'; '.join(said)}"
        for pup in teller.verdict.litter.in_order
        if pup.here and pup.number not in poor and (said := list(noted_of(pup, teller)))
    ]
    if not told:
        return Known(())
    words = f"{capital('; '.join(told))}."
    return Known((Fact("assessment", "of the pups", words, (), "pup notes"),))


def _together(pups: list[Pup], teller: Teller, most: int | None) -> str:
    """``pups 4 and 5 limp, pup 6 crying``, with so many signs of each at most."""
    alike: dict[str, list[str]] = {}
    for pup in sorted(pups, key=lambda one: one.number):
        alike.setdefault(_in_a_word(pup, teller, most), []).append(str(pup.number))
    return ", ".join(f"{pups_listed(numbers)} {words}" for words, numbers in alike.items())


def _in_a_word(pup: Pup, teller: Teller, most: int | None) -> str:
    """The first signs of a pup; when none is written down, what its alert is called."""
    signs = [one.words.partition(",")[0] for one in shown(pup, teller)][:most]
    if signs:
        return listed(signs)
    subject = pup_subject(pup.number)
    alert = next(one for one in teller.verdict.alerts if one.subject == subject)
    return f"({alert.rule.title[:1].lower()}{alert.rule.title[1:]})"


def _not_well(teller: Teller) -> list[Pup]:
    """Pups with a loud alert of their own, the gravest first; then those with a sign."""
    litter = teller.verdict.litter
    # A pup that may be lost within minutes comes before one that has drunk too late.
    alerts = sorted(teller.verdict.alerts, key=_gravity)
    numbers = [
        int(alert.subject[4:])
        for alert in alerts
        if alert.rule.group == "each pup"
        and alert.subject.startswith("pup ")
        and (alert.level >= Level.CALL or alert.in_minutes)
    ]
    numbers += [pup.number for pup in litter.in_order if pup.alive and shown(pup, teller)]
    found = [litter.pups[number] for number in dict.fromkeys(numbers) if number in litter.pups]
    return [pup for pup in found if pup.here]


def _gravity(alert: Alert) -> tuple[bool, bool]:
    """What may be lost within minutes comes first, then what is seen or felt, then the scale."""
    return not alert.in_minutes, alert.rule.id not in _SEEN


def _fact(pup: Pup, stand: Latest | None, teller: Teller, place: int) -> Fact:
    """A pup with all that was found in it; of a later one at the least its signs and notes."""
    told = [*_findings(pup, teller), *noted_of(pup, teller)]
    fed = _last_fed(teller, pup) if teller.stage == "after" else ""
    told += [fed] if fed else []
    short = told
    if stand is not None:
        told, short = [*told, _weight(stand, teller)], [*told, _change(stand)]
    if not told:
        told = short = [f"born {teller.when(pup.birth)}; no sign written down of it"]
    name = capital(teller.pup(pup))
    fewer = f"{name}: {'; '.join(short)}."
    if not place:
        return Fact("assessment", "not well", f"{name}: {'; '.join(told)}.", (fewer,), _TURNS[0])
    least = f"{capital('; '.join([_together([pup], teller, _EVERY), *words_of(pup, teller)]))}."
    return Fact("assessment", "", f"{name}: {'; '.join(told)}.", (fewer, ""), _TURNS[place],
                least=least)  # fmt: skip


def _findings(pup: Pup, teller: Teller) -> Iterator[str]:
    """How it looks, and its temperature, each with its age."""
    yield from told_signs(pup, teller)
    if pup.celsius is not None and pup.measured is not None:
        yield f"{teller.reader.temperature(pup.celsius)} {teller.ago(pup.measured)}"


def _last_fed(teller: Teller, pup: Pup) -> str:
    lines = [
        entry
        for entry in teller.verdict.story.of(Feed)
        if isinstance(entry.what, Feed) and entry.what.pup == pup.number
    ]
    # A feed with a note is told with it.
    return f"last fed {teller.ago(lines[-1].at)}" if lines and not lines[-1].note else ""


def _weight(stand: Latest, teller: Teller) -> str:
    """``412 g 3 h ago, +5.1 % since the first weight, -1.0 % in the last day``."""
    words = f"{teller.reader.weight(stand.grams)} {teller.ago(stand.at)}"
    if stand.day is None and not stand.since_birth:
        return f"{words}, not weighed again"
    words += f", {change_words(stand.since_birth)} % since the first weight"
    return f"{words}, {_day_gain(stand.day)}" if stand.day is not None else words


def _change(stand: Latest) -> str:
    """What became of its weight, in the fewest words that are true."""
    if stand.day is not None:
        return _day_gain(stand.day)
    if not stand.since_birth:
        return "not weighed again"
    return f"{change_words(stand.since_birth)} % since the first weight"


def _day_gain(day: Gain) -> str:
    return f"{change_words(day.percent_per_day)} % in the last day"


def litter_gain(teller: Teller) -> Known:
    """The newest weighing: how long ago, how many gained since the one before, what they weigh."""
    pups = teller.verdict.litter.pups
    scales = {
        number: scale
        for number, scale in scales_of(teller.verdict.story).pups.items()
        if number in pups and pups[number].here and len(scale.weighings) > 1
    }
    if not scales:
        due = any(pup.here and teller.verdict.at - pup.born >= _DAY for pup in pups.values())
        return Known((), ("how the pups gain weight",) if due else ())
    newest = max(scale.weighings[-1].at for scale in scales.values())
    gains = {
        number: Gain(scale.weighings[-2], scale.weighings[-1]) for number, scale in scales.items()
    }
    still = [number for number, gain in gains.items() if gain.grams <= 0]
    since = min(gain.start.at for gain in gains.values())
    words = (
        f"{len(gains) - len(still)} of {counted(len(gains), 'pup', 'pups')} gained since the "
        f"weighing before, {teller.point(since)} (weighed {teller.ago(newest)})"
    )
    short = f"{words}."
    if still:
        told = [f"{number} ({change_words(_percent(gains[number]))} %)" for number in still]
        words += f"; not {'pup' if len(told) == 1 else 'pups'} {listed(told)}"
    weights = sorted(gain.end.grams for gain in gains.values())
    least, most = map(teller.reader.weight, (weights[0], weights[-1]))
    span = least if least == most else f"{least} to {most}"
    return Known((Fact("assessment", "weights", f"{words}; now {span}.", (short, ""), "gains"),))


def _percent(gain: Gain) -> float:
    """By how much the pup is heavier or lighter than at the weighing before."""
    return float(100 * gain.grams / gain.start.grams)
