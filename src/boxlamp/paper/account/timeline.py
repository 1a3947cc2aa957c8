"""The timeline: every line as it was typed, as it now reads, and what changed it.

Whoever corrects a record shows more than the last word: nothing that was ever typed is missing
here, and every entry is found exactly once, as a line or among the corrections of one.
"""

from collections.abc import Mapping, Sequence

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Strike
from boxlamp.model.order import canonical, corrected, homes, struck
from boxlamp.paper.account.matter import Matter
from boxlamp.paper.account.models import Correction, Line


def timeline_of(matter: Matter) -> tuple[Line, ...]:
    """Every entry once, in order of time as the record now reads.

    A correction of something that was never written down before it has a line of its own; it
    reads as it was typed, since it changed nothing.
    """
    entries = sorted(matter.entries, key=lambda entry: entry.id)
    roots = homes(entries)
    families = _families(entries, roots)
    reads, withdrawn = _readings(entries), struck(entries)
    lines = (
        Line(
            typed=typed,
            reads=reads.get(typed.id),
            corrections=tuple(
                _correction(entry, typed, entries, roots, withdrawn) for entry in corrections
            ),
        )
        for typed, *corrections in families
    )
    return tuple(sorted(lines, key=lambda line: canonical(line.reads or line.typed)))


def _families(entries: Sequence[Entry], roots: Mapping[int, int]) -> list[list[Entry]]:
    """Each line with the corrections that hang on it, in the order of their numbers."""
    found: dict[int, int] = {}
    families: dict[int, list[Entry]] = {}
    for entry in entries:
        home = entry.id
        if isinstance(entry.what, Amend | Strike):
            # Only what was typed before can be corrected, and that has its home already.
            named = found.get(entry.what.target, entry.id)
            home = found.get(roots.get(entry.id, entry.what.target), named)
        found[entry.id] = home
        families.setdefault(home, []).append(entry)
    return list(families.values())


def _correction(
    entry: Entry,
    typed: Entry,
    entries: Sequence[Entry],
    roots: Mapping[int, int],
    withdrawn: Mapping[int, Entry],
) -> Correction:
    """One correction of a line. An amend of a withdrawal, or of nothing, has nothing to change."""
    idle = isinstance(entry.what, Amend) and (
        isinstance(typed.what, Amend | Strike) or roots[entry.id] != typed.id
    )
    return Correction(
        entry=entry,
        stands=entry.id not in withdrawn and not idle,
        before=_readings([one for one in entries if one.id < entry.id]).get(typed.id),
        withdrawn_by=withdrawn[entry.id].id if entry.id in withdrawn else None,
    )


def _readings(entries: Sequence[Entry]) -> dict[int, Entry]:
    """How everything that was not withdrawn reads once these entries are known."""
    withdrawn = struck(entries)
    loose = {
        entry.id: entry
        for entry in entries
        if isinstance(entry.what, Amend | Strike) and entry.id not in withdrawn
    }
    return loose | {entry.id: entry for entry in corrected(entries)}
