"""How the whelping goes: pups expected and born, pushes, what shows, afterbirths."""

from collections.abc import Sequence

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Birth, Contraction, Part, Rest, Sac
from boxlamp.model.litter import Litter
from boxlamp.paper.call_sheet.dam import asked
from boxlamp.paper.call_sheet.facts import Fact, Known
from boxlamp.paper.call_sheet.own_words import since as later_words
from boxlamp.paper.call_sheet.pup_lives import living
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import capital, pups_listed
from boxlamp.view.text import counted

_BY = {"xray": "by x-ray", "scan": "by scan", "guess": "by a guess"}


_PARTS = {
    "head": "a head",
    "feet": "feet",
    "tail": "a tail",
    "rump": "a rump",
    "unknown": "a part of a pup, not said which",
}


_NONE_BORN = {
    "before": "none born yet",
    "labour": "none born yet",
    "after": "no birth written down",
}


def expected(teller: Teller) -> Known:
    """How many pups are expected, and by what."""
    litter = teller.verdict.litter
    if litter.expected is None:
        return Known((), ("how many pups are expected",))
    by = _BY.get(litter.expected_by or "", "")
    words = f"{counted(litter.expected, 'pup', 'pups')} expected {by}".rstrip()
    return Known((Fact("assessment", "pups", f"{words}.", topic="stays"),))


def tally(teller: Teller) -> Known:
    """How many were expected, are born, live; when the last one came."""
    litter = teller.verdict.litter
    unknown: tuple[str, ...] = ()
    by = _BY.get(litter.expected_by or "", "")
    words = f"{litter.born} born" if litter.born else _NONE_BORN[teller.stage]
    if litter.expected is not None:
        words += (
            f" of {litter.expected} {by}" if litter.born else f"; {litter.expected} expected {by}"
        )
    elif teller.stage == "labour":
        unknown = ("how many pups are expected",)
    if litter.born:
        words += f", {living(teller)}"
    words = capital(words.rstrip())
    if litter.born and teller.stage == "labour":
        words += f". Last {teller.when(litter.in_order[-1].birth)}"
    return Known((Fact("assessment", "pups", f"{words}."),), unknown)


def pushing(teller: Teller) -> Known:
    """Strong or weak, since when, the last one; or since when she rests."""
    story, litter = teller.verdict.story, teller.verdict.litter
    pushes = story.of(Contraction)
    if litter.caesarean is not None:
        return Known(())  # nobody waits for a push any more
    if not pushes:
        return Known((), ("contractions",))
    last = pushes[-1]
    since = [entry for entry in pushes if litter.last_birth is None or entry.at > litter.last_birth]
    rest = story.last(Rest)
    resting = ""
    # A pup that came after she lay down to rest has ended the rest.
    if rest is not None and rest.at >= max(last.at, litter.last_birth or last.at):
        resting = f" Resting since {teller.at(rest)}{_for(teller, rest)}."
    resting += later_words(rest if resting and rest is not None else last, teller)
    if not since:
        words = f"None written down since the last pup; last one {teller.when(last)}.{resting}"
        return Known((Fact("assessment", "pushing", words, topic="pushing"),))
    latest = f"Last push {teller.when(last)}, {_strength(last)}{teller.note(last)}."
    first = f" First since the last pup {teller.at(since[0])}" if litter.born else (
        f" First {teller.at(since[0])}"
    )  # fmt: skip
    many = f"{first}; {_counts(since)} written down." if len(since) > 1 else ""
    words = f"{latest}{resting}{many}"
    return Known((Fact("assessment", "pushing", words, (f"{latest}{resting}",), "pushing"),))


def _for(teller: Teller, entry: Entry) -> str:
    age = teller.age(entry.at)
    return f", for {age}" if age else ""


def _strength(push: Entry) -> str:
    strength = getattr(push.what, "strength", "unspecified")
    return "strength not said" if strength == "unspecified" else str(strength)


def _counts(pushes: Sequence[Entry]) -> str:
    """``3 strong, 2 weak``."""
    said = [_strength(push) for push in pushes]
    kinds = [(kind, said.count(kind)) for kind in ("strong", "weak", "strength not said")]
    return ", ".join(
        f"{count} {'of ' if kind.startswith('strength') else ''}{kind}"
        for kind, count in kinds
        if count
    )


def vulva(teller: Teller) -> Known:
    """What shows now: the newest line about it since the last pup; nothing after a caesarean."""
    if teller.verdict.litter.caesarean is not None:
        return Known(())
    shows = None
    for entry in teller.verdict.story.of(Sac, Part, Rest, Birth):
        match entry.what:
            case Sac() | Part():
                shows = entry
            case Rest(sac_gone=True):
                shows = entry
            case Birth():
                shows = None
            case _:
                pass
    if shows is None:
        return Known((), ("what shows at the vulva now",))
    match shows.what:
        case Sac():
            words = "A sac"
        case Part(part=part):
            words = capital(_PARTS[part])
        case _:
            words = "Nothing: the sac slipped back"
    told = f"{words}, seen {teller.noted(shows)}."
    return Known((Fact("assessment", "at the vulva", told, topic="stays"),))


def afterbirths(teller: Teller) -> Known:
    """How many have passed and which pups' are missing; nothing before the first pup."""
    litter = teller.verdict.litter
    ledger = litter.ledger
    if not litter.born:
        return Known(())
    owed = [str(debt.pup) for debt in ledger.owed]
    unseen = [str(debt.pup) for debt in ledger.debts.values() if debt.answer == "not-seen"]
    told = [f"{ledger.passed} passed" if ledger.passed else "none written down yet"]
    short = told + [f"{len(owed)} not yet seen"] * bool(owed)
    if owed:
        told.append(f"{len(owed)} not yet seen, of {pups_listed(owed)}")
    if unseen:
        told.append(f"looked for and not seen, of {pups_listed(unseen)}")
        short.append(f"{len(unseen)} looked for and not seen")
    surplus = len(ledger.surplus) if litter.caesarean is None else 0
    both = [f"{'one' if surplus == 1 else surplus} more than pups"] * bool(surplus)
    both += ["none counted as owed after the caesarean"] * _by_caesarean(litter)
    settled = not owed and not unseen and not both
    if settled and not asked(teller):
        return Known(())
    both += ["none missing"] * settled
    words, fewer = (f"{capital('; '.join([*some, *both]))}." for some in (told, short))
    quiet = teller.stage == "after" and settled
    gone = ("",) if quiet else ()
    return Known(
        (
            Fact(
                "assessment",
                "afterbirths",
                words,
                (fewer, *gone),
                "past" if quiet else "afterbirths",
            ),
        )
    )


def _by_caesarean(litter: Litter) -> bool:
    return any(debt.answer == "caesarean" for debt in litter.ledger.debts.values())
