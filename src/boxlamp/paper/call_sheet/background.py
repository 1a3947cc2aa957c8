"""The background of a call: is she at term, what is known of her, how it has gone so far."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Contraction, Details, Settled, Sign, Waters
from boxlamp.model.quantities import plain
from boxlamp.model.zones import zone_named
from boxlamp.paper.call_sheet.facts import Fact, Known, Topic
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.call_sheet.words import NAME, capital, listed
from boxlamp.planning.dates import DueDate, due_dates
from boxlamp.view.text import counted, date_text, dates_text

_STAGES = 2
_PAST: tuple[str, Topic] = ("the birth", "past")
_SO_FAR: tuple[str, Topic] = ("so far", "so far")
# Our choice: a week after the birth nobody asks any more whether she was at term.
_WEEK = timedelta(days=7)
_TOLD_BY_NAME = frozenset({"earlier difficult whelping", "earlier caesarean"})


def background(teller: Teller) -> Known:
    """What the vet wants to know before the night itself."""
    told = (*_dam(teller), *_term(teller), *_labour(teller), *_limits(teller))
    return Known(told, tuple(_unknown(teller)))


def _dam(teller: Teller) -> Iterator[Fact]:
    details = teller.verdict.litter.details
    told = []
    if details.age_years is not None:
        told.append(counted_years(plain(details.age_years)))
    if details.weight is not None:
        told.append(teller.reader.heavy(details.weight))
    if details.first_litter is not None:
        told.append("her first litter" if details.first_litter else "not her first litter")
    earlier = _earlier(details)
    troubled = [f"a {word}" for word, had in earlier.items() if had]
    free = [f"no {word}" for word, had in earlier.items() if had is False]
    if troubled or free:
        told.append(f"{' and '.join(troubled or free)} before")
    risks = [risk for risk in teller.verdict.book.now.risks if risk not in _TOLD_BY_NAME]
    words = capital(", ".join(told))
    if risks:
        at_risk = f"Risks: {', '.join(risks)}."
        shorter = (f"{words}.",) if words else ()
        words = f"{words}. {at_risk}" if words else at_risk
        yield Fact("background", "the dam", words, shorter, "her history")
    elif words:
        yield Fact("background", "the dam", f"{words}.", (), "her history")


def _earlier(details: Details) -> dict[str, bool | None]:
    """What went wrong in an earlier litter: True, False, or None where nobody has said."""
    return {
        "difficult whelping": details.earlier_dystocia,
        "caesarean": details.earlier_caesarean,
    }


def counted_years(years: str) -> str:
    """``1 year old``, ``2.5 years old``."""
    return f"{years} {'year' if years == '1' else 'years'} old"


def _term(teller: Teller) -> Iterator[Fact]:
    """At term or not, by which count; with pups born, on which day the first came."""
    verdict = teller.verdict
    last = verdict.litter.last_birth
    if teller.stage == "after" and last is not None and verdict.at - last >= _WEEK:
        return  # the pups are what is asked about now
    dates = due_dates(verdict.story, verdict.book)
    basis = dates.trusted
    if basis is None:
        words = "Not known: no mating, ovulation or scan date written down."
        yield Fact("background", "at term?", words, ("Not known.",), "term")
        return
    born = min((pup.birth for pup in verdict.litter.pups.values()), key=_at, default=None)
    if born is not None:
        today = born.at.astimezone(zone_named(born.zone)).date()
    else:
        today = verdict.at.astimezone(teller.reader.zone).date()
    day = basis.day_on(today)
    subject = "first pup on day" if born is not None else "day"
    place = _place(basis, today)
    short = (
        f"{place}: {subject} {day} from {basis.counted_from}, "
        f"{_from_due((today - basis.due).days)}."
    )
    window = f"{date_text(basis.due)}, window {dates_text(basis.earliest, basis.latest)}"
    words = f"{short[:-1]} ({window})."
    if dates.clash is not None:
        other = dates.clash.other
        words += f" By {other.told} she is due {date_text(other.due)}: the dates disagree."
        short += " The dates disagree."
    after = teller.stage == "after"
    yield Fact(
        "background",
        "at term?",
        words,
        (short, *([""] if after else [])),
        "past" if after else "term",
    )


def _place(basis: DueDate, day: date) -> str:
    """Whether a day lies before, in or after the window that the basis gives."""
    if day < basis.earliest:
        return "Before term"
    return "Past term" if day > basis.latest else "At term"


def _at(entry: Entry) -> datetime:
    return entry.at


def _from_due(days: int) -> str:
    if days == 0:
        return "the due day"
    side = "past" if days > 0 else "before"
    return f"{counted(abs(days), 'day', 'days')} {side} due"


def _labour(teller: Teller) -> Iterator[Fact]:
    """When the stages began, as far as they have."""
    litter = teller.verdict.litter
    told = list(_stages(teller))
    births = [pup.birth for pup in litter.in_order]
    after = teller.stage == "after"
    if births and after:
        told = [f"first pup {teller.at(births[0])}", f"last pup {teller.at(births[-1])}"]
        told += ["by caesarean"] * any(pup.by_caesarean for pup in litter.in_order)
    elif births:
        told.append(f"first pup {teller.at(births[0])}")
    if litter.caesarean is not None and not after:
        told.append(f"caesarean {teller.moment(litter.caesarean)}")
    if told:
        words = f"{capital('; '.join(told))}."
        fewer = [one for one in told if not one.startswith("first push")][-_STAGES:]
        shorter = (f"{capital('; '.join(fewer or told))}.", "")
        label, topic = _PAST if after else _SO_FAR
        yield Fact("background", label, words, shorter, topic)


def _stages(teller: Teller) -> Iterator[str]:
    """First signs, waters, first push: each as far as it is known."""
    story = teller.verdict.story
    first = _first_signs(teller)
    if first is not None:
        yield f"first signs {teller.at(first)}"
    waters = story.of(Waters)
    if waters:
        # Each pup has waters of its own: the first say when it began, every colour is told.
        colours = dict.fromkeys(
            entry.what.colour
            for entry in waters
            if isinstance(entry.what, Waters) and entry.what.colour != "unknown"
        )
        later = f", then {', '.join(list(colours)[1:])}" if len(colours) > 1 else ""
        first_colour = f", {next(iter(colours))}" if colours else ""
        yield f"waters broke {teller.at(waters[0])}{first_colour}{later}"
    pushes = story.of(Contraction)
    if pushes:
        yield f"first push {teller.at(pushes[0])}"


def _first_signs(teller: Teller) -> Entry | None:
    """The first sign of labour since she last settled."""
    first = None
    for entry in teller.verdict.story.of(Sign, Settled):
        first = None if isinstance(entry.what, Settled) else first or entry
    return first


def _limits(teller: Teller) -> Iterator[Fact]:
    """That a limit was changed on a vet's word, which every sheet has to show."""
    changed = [change.limit for change in teller.verdict.book.changes if not change.refused]
    if changed:
        rules = listed(sorted({teller.own(limit.rule, NAME) for limit in changed}))
        who = listed(sorted({teller.own(limit.by, NAME) for limit in changed}))
        words = f"Changed on the word of {who}: {rules}."
        yield Fact("background", "limits", words, ("Changed on a vet's word.",), "limits")


def _unknown(teller: Teller) -> Iterator[str]:
    details = teller.verdict.litter.details
    for words, value in (
        ("her breed", details.breed),
        ("age", details.age_years),
        ("weight", details.weight),
        ("whether it is her first litter", details.first_litter),
    ):
        if value is None:
            yield words
    if details.first_litter is True:
        return
    unsaid = [word for word, had in _earlier(details).items() if had is None]
    if unsaid:
        yield f"any earlier {' or '.join(unsaid)}"
