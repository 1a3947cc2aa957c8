"""The canonical order of entries and what corrections do to them. Written once, here."""

from collections.abc import Iterable
from datetime import datetime

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Strike

# Facts that set the scene come first at any instant, and closings last; a birth typed with the
# same minute as the push that brought it comes after that push. Inside one rank the order of
# typing decides, because that is the order in which a person saw things.
_SCENE, _LABOUR, _BIRTH, _AFTER, _CLOSING, _CORRECTION = range(6)
_RANK = {
    **dict.fromkeys(("details", "limit", "mating", "ovulation", "scan", "expect", "kit"), _SCENE),
    **dict.fromkeys(
        ("temperature", "sign", "settled", "waters", "sac", "part", "contraction", "rest",
         "discharge", "caesarean"), _LABOUR),
    "birth": _BIRTH,
    **dict.fromkeys(
        ("sex", "afterbirth", "step", "score", "reflexes", "weight", "round", "feed", "pup-state",
         "death", "milestone", "dam-state", "treatment", "vet"), _AFTER),
    **dict.fromkeys(("finished", "note", "ack"), _CLOSING),
    **dict.fromkeys(("amend", "strike"), _CORRECTION),
}  # fmt: skip


def canonical(entry: Entry) -> tuple[datetime, int, int]:
    """Sort key: when it happened, then the fixed rank of its kind, then its number."""
    return entry.at, _RANK[entry.what.kind], entry.id


def known_at(entries: Iterable[Entry], moment: datetime) -> tuple[Entry, ...]:
    """The entries that had been typed by ``moment``: what was known then."""
    return tuple(entry for entry in entries if entry.recorded <= moment)


def struck(entries: Iterable[Entry]) -> dict[int, Entry]:
    """Numbers of the entries that are withdrawn, with the strike that withdrew each.

    A strike may itself be struck. Corrections only reach back, so reading them newest first
    settles every chain in one pass.
    """
    withdrawn: dict[int, Entry] = {}
    strikes = [(entry, entry.what) for entry in entries if isinstance(entry.what, Strike)]
    for entry, strike in sorted(strikes, key=lambda pair: -pair[0].id):
        if entry.id not in withdrawn and strike.target < entry.id:
            withdrawn.setdefault(strike.target, entry)
    return withdrawn


def homes(entries: Iterable[Entry]) -> dict[int, int]:
    """What each amend is about in the end: an amend of an amend is followed home.

    One that names a line that was not there yet corrects nothing, and leads to itself.
    """
    found: dict[int, int] = {}
    for entry in sorted(entries, key=lambda entry: entry.id):
        if isinstance(entry.what, Amend):
            home = found.get(entry.what.target, entry.what.target)
            found[entry.id] = min(entry.id, home)
    return found


def corrected(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The record as it now reads: amends applied, struck entries gone, canonical order.

    Corrections themselves are left out. An amended entry keeps its number and its typed time.
    """
    every = sorted(entries, key=lambda entry: entry.id)
    if not any(isinstance(entry.what, Amend | Strike) for entry in every):
        return tuple(sorted(every, key=canonical))
    withdrawn = struck(every)
    current: dict[int, Entry] = {}
    root: dict[int, int] = {}
    for entry in every:
        if isinstance(entry.what, Amend):
            # An amend may name an earlier amend of the same entry: follow it home.
            target = root.get(entry.what.target, entry.what.target)
            # What names a line that was not there yet corrects nothing, and leads nowhere.
            root[entry.id] = min(entry.id, target)
            if entry.id not in withdrawn and target in current:
                current[target] = _amended(current[target], entry, entry.what)
        elif entry.id not in withdrawn and not isinstance(entry.what, Strike):
            current[entry.id] = entry
    return tuple(sorted(current.values(), key=canonical))


def _amended(entry: Entry, correction: Entry, amend: Amend) -> Entry:
    changes: dict[str, object] = {}
    if amend.what is not None:
        changes["what"] = amend.what
    if amend.retimed:
        changes |= {
            "at": correction.at,
            "zone": correction.zone,
            "certainty": correction.certainty,
        }
    return entry.model_copy(update=changes)
