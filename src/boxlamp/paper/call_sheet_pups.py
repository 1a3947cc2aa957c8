"""The pups on a call sheet: the ones that are not well, and in the weeks after what they weigh."""

from collections.abc import Iterator

from boxlamp.growth.latest import Latest, latest
from boxlamp.model.happenings import Feed, PupState
from boxlamp.model.levels import Level
from boxlamp.model.litter import Pup
from boxlamp.paper.call_sheet_facts import Fact, Known, Teller, capital, listed, pup_name
from boxlamp.paper.telling_words import PUP_WORDS
from boxlamp.view.text import counted
from boxlamp.view.weights_words import change_words

_SHOWN = 3


def pup_facts(teller: Teller) -> Known:
    """A line for each pup that is not well; the most pressing ones first, the rest counted."""
    poor = _not_well(teller)
    if not poor:
        return Known(())
    stands = latest(teller.verdict) if teller.stage == "after" else {}
    facts = [
        _fact(pup, stands.get(pup.number), teller, place) for place, pup in enumerate(poor[:_SHOWN])
    ]
    rest = [str(pup.number) for pup in poor[_SHOWN:]]
    if rest:
        words = f"{'Pup' if len(rest) == 1 else 'Pups'} {listed(rest)}."
        facts.append(Fact("assessment", "also poorly", words, ("",), 3))
    return Known(tuple(facts))


def _not_well(teller: Teller) -> list[Pup]:
    """Pups with a loud alert of their own, in the order of the alerts; then those with a sign."""
    litter = teller.verdict.litter
    numbers = [
        int(alert.subject[4:])
        for alert in teller.verdict.alerts
        if alert.rule.group == "each pup"
        and alert.subject.startswith("pup ")
        and alert.level >= Level.CALL
    ]
    numbers += [pup.number for pup in litter.in_order if pup.alive and list(_signs(pup))]
    found = [litter.pups[number] for number in dict.fromkeys(numbers) if number in litter.pups]
    return [pup for pup in found if pup.here]


def _signs(pup: Pup) -> Iterator[str]:
    if pup.state == "limp" and "breathing" not in pup.steps and not pup.signs:
        yield "limp at birth, breathing not written down"
    for sign in pup.signs:
        if sign != "well":
            yield PUP_WORDS[sign]


def _fact(pup: Pup, stand: Latest | None, teller: Teller, place: int) -> Fact:
    told = list(_findings(pup, teller))
    short = told[:2]
    if stand is not None:
        told.append(_weight(stand, teller))
        short = [*short, _day_gain(stand)]
    fed = _last_fed(teller, pup) if teller.stage == "after" else ""
    told += [fed] if fed else []
    if not told:
        told = short = [f"born {teller.when(pup.birth)}; nothing more written down of it"]
    name = capital(pup_name(pup))
    fewer = f"{name}: {'; '.join(short)}."
    gone = ("",) if place else ()
    return Fact("assessment", "not well" if not place else "", f"{name}: {'; '.join(told)}.",
                (fewer, *gone), 7 - place)  # fmt: skip


def _findings(pup: Pup, teller: Teller) -> Iterator[str]:
    """How it looks, and its temperature, each with its age."""
    signs = listed(list(_signs(pup)))
    if signs:
        lines = [
            entry
            for entry in teller.verdict.story.of(PupState)
            if isinstance(entry.what, PupState) and entry.what.pup == pup.number
        ]
        yield f"{signs} {teller.when(lines[-1])}" if lines and pup.signs else signs
    if pup.celsius is not None and pup.measured is not None:
        yield f"{teller.reader.temperature(pup.celsius)} {teller.ago(pup.measured)}"


def _last_fed(teller: Teller, pup: Pup) -> str:
    lines = [
        entry
        for entry in teller.verdict.story.of(Feed)
        if isinstance(entry.what, Feed) and entry.what.pup == pup.number
    ]
    return f"last fed {teller.ago(lines[-1].at)}" if lines else ""


def _weight(stand: Latest, teller: Teller) -> str:
    """``412 g 3 h ago, +5.1 % since the first weight, -1.0 % in the last day``."""
    words = f"{teller.reader.weight(stand.grams)} {teller.ago(stand.at)}"
    if stand.day is None and not stand.since_birth:
        return f"{words}, not weighed again"
    words += f", {change_words(stand.since_birth)} % since the first weight"
    return f"{words}, {_day_gain(stand)}" if stand.day is not None else words


def _day_gain(stand: Latest) -> str:
    if stand.day is None:
        return "not weighed again"
    return f"{change_words(stand.day.percent_per_day)} % in the last day"


def litter_gain(teller: Teller) -> Known:
    """How many pups have gained over about the last day, and which have not."""
    pups = teller.verdict.litter.pups
    days = {
        number: stand
        for number, stand in latest(teller.verdict).items()
        if pups[number].here and stand.day is not None
    }
    if not days:
        here = any(pup.here for pup in pups.values())
        return Known((), ("how the pups gain weight",) if here else ())
    still = [number for number, stand in days.items() if stand.day and stand.day.grams <= 0]
    newest = max(days.values(), key=lambda stand: stand.at)
    words = (
        f"{len(days) - len(still)} of {counted(len(days), 'pup', 'pups')} gained over the last "
        f"day (weighed {teller.ago(newest.at)})"
    )
    short = f"{words}."
    if still:
        told = [f"{number} ({change_words(_percent(days[number]))} %)" for number in still]
        words += f"; not {'pup' if len(told) == 1 else 'pups'} {listed(told)}"
    return Known((Fact("assessment", "weights", f"{words}.", (short, ""), 4),))


def _percent(stand: Latest) -> float:
    return stand.day.percent_per_day if stand.day is not None else 0.0
