"""The limits in force for one litter, worked out anew: risk factors, and a vet's word.

Only the numbers are the protocol's. Catalogue: a risk factor multiplies a labour limit, watch by
one factor, call and go by another, rounded down to whole steps and never below one; a vet's word
for one litter takes the place of a limit, but no word loosens a rule that is never relaxed.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Details, Expect, Limit, Scan
from boxlamp.protocol.records import LimitRecord, Protocol

Key = tuple[str, str, str]
"""Rule, clock, level."""

_BEST = {"guess": 1, "scan": 2, "xray": 3}


@dataclass
class Count:
    """The best count of pups so far: a weaker way of knowing never replaces a stronger one."""

    pups: int | None = None
    by: str = ""

    def take(self, what: object) -> None:
        """Let one entry count."""
        if isinstance(what, Expect):
            self._heard(what.count, what.method)
        elif isinstance(what, Scan) and what.count is not None:
            self._heard(what.count, "xray" if what.method == "xray" else "scan")

    def _heard(self, pups: int, by: str) -> None:
        if _BEST[by] >= _BEST.get(self.by, 0):
            self.pups, self.by = pups, by


@dataclass
class InForce:
    """What is known that changes limits, up to some entry."""

    protocol: Protocol
    strict: frozenset[str]
    """The rules that are never relaxed."""
    facts: dict[str, object] = field(default_factory=dict)
    count: Count = field(default_factory=Count)
    words: dict[Key, list[float]] = field(default_factory=dict)

    def take(self, entry: Entry) -> None:
        """Let one entry change the limits."""
        what = entry.what
        self.count.take(what)
        if isinstance(what, Details):
            self.facts |= {name: said for name, said in what if said is not None}
        elif isinstance(what, Limit):
            key = (what.rule, what.clock, what.level)
            loosens = what.seconds > self._own().get(key, what.seconds)
            if not (loosens and what.rule in self.strict):
                self.words.setdefault(key, []).append(float(what.seconds))

    def limits(self) -> dict[Key, float]:
        """Every limit in force, in seconds."""
        own = self._own()
        found = own | {key: words[-1] for key, words in self.words.items()}
        for key in self.words.keys() & own.keys():
            if key[0] in self.strict:
                found[key] = min(own[key], *self.words[key])
        followed = (one for one in self.protocol.limit if one.follows)
        return found | {_key(one): found[one.follows, "main", one.level] for one in followed}

    def _own(self) -> dict[Key, float]:
        """The protocol's limits, those of labour tightened when she carries a risk."""
        risk, at_risk = self.protocol.risk, self.at_risk
        found = {_key(one): one.span.total_seconds() for one in self.protocol.limit}
        for key in found if at_risk else ():
            if key[0] in risk.rules:
                factor = risk.watch_factor if key[2] in {"prompt", "watch"} else risk.call_factor
                steps = found[key] * float(factor) // risk.round_down_to
                found[key] = min(found[key], max(1, steps) * risk.round_down_to)
        return found

    @property
    def at_risk(self) -> bool:
        """Whether a risk factor of the catalogue is known of her."""
        risk, facts, pups = self.protocol.risk, self.facts, self.count.pups
        breed = str(facts.get("breed", "")).strip().lower()
        weight, age = facts.get("weight"), facts.get("age_years")
        return bool(
            facts.get("flat_faced", breed in risk.flat_faced_breeds)
            or facts.get("toy", breed in risk.toy_breeds)
            or (pups is not None and (1 <= pups <= risk.few_pups or pups > risk.many_pups))
            or (facts.get("first_litter") and _over(age, risk.old_first_litter_years))
            or facts.get("earlier_dystocia")
            or facts.get("earlier_caesarean")
            or _over(weight, risk.heavy_grams)
            or _over(risk.light_grams, weight)
        )


def _over(one: object, other: object) -> bool:
    return one is not None and other is not None and float(str(one)) > float(str(other))


def _key(record: LimitRecord) -> Key:
    return record.rule, record.clock, record.level


def pages(
    lines: Iterable[tuple[float, Entry]], protocol: Protocol, strict: frozenset[str]
) -> list[tuple[float, dict[Key, float]]]:
    """All limits from the beginning, and after each entry that may change one."""
    known = InForce(protocol, strict)
    found = [(0.0, known.limits())]
    for place, entry in lines:
        if isinstance(entry.what, Details | Expect | Scan | Limit):
            known.take(entry)
            found.append((place, known.limits()))
    return found
