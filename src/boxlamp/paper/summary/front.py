"""The first page: what a vet reads standing up."""

from collections.abc import Iterator
from datetime import timedelta

from boxlamp.model.happenings import Discharge
from boxlamp.model.spans import in_words
from boxlamp.paper.account.evidence import DischargeSeen
from boxlamp.paper.account.models import Account, DueBasis, Stage
from boxlamp.paper.document import Cell, Column, Facts, Section, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.words import (
    UNKNOWN,
    about,
    day,
    length,
    names,
    said,
    seen_alive,
    yes_or_no,
)
from boxlamp.paper.telling import told
from boxlamp.paper.telling_words import DAM_WORDS
from boxlamp.view.text import counted, date_text, dates_text

_HOW = {"xray": "x-ray", "scan": "scan", "guess": "a guess"}
_STAGES = {
    1: "1  first signs, cervix opening",
    2: "2  pups being born",
    3: "3  afterbirths passing",
}
_COUNTED = (
    "Contractions are counted from the first push of each bout to the pup, the rest or the last "
    "push that was written down next. Whether she pushed all the while is not known."
)
# How many of the latest words on her stand on the first page (our choice).
_LATEST = 3


def dam_section(account: Account, reader: Reader) -> Section:
    """Who she is, what was expected and what came, and how she was when last looked at."""
    dam = account.dam
    who = [
        said(dam.name),
        dam.breed or f"breed {UNKNOWN}",
        f"{dam.age_years.normalize():f} years" if dam.age_years is not None else f"age {UNKNOWN}",
        reader.heavy(dam.weight_g) if dam.weight_g is not None else f"weight {UNKNOWN}",
    ]
    rows = [
        ("Dam", ", ".join(who)),
        ("History", _history(account)),
        ("Pups", _tally(account)),
        *_dates(account),
    ]
    if dam.risks:
        rows.append(("Risk factors", reader.sentence(f"{', '.join(dam.risks)}: limits tightened")))
    rows += [("Vet", _vet(account)), *_last_seen(account, reader)]
    return Section("The dam", (Facts(tuple(rows)),))


def _history(account: Account) -> str:
    dam = account.dam
    return (
        f"first litter: {yes_or_no(dam.first_litter)}; "
        f"earlier difficult birth: {yes_or_no(dam.earlier_dystocia)}; "
        f"earlier caesarean: {yes_or_no(dam.earlier_caesarean)}"
    )


def _tally(account: Account) -> str:
    if account.expected is None:
        expected = "number expected not known"
    else:
        expected = f"{account.expected.count} expected ({_HOW[account.expected.by]})"
    dead = account.born - account.alive
    born = f"{expected}, {account.born} born"
    if not account.born:
        return born
    alive = "" if all(map(seen_alive, account.pups)) else " as far as is known"
    return f"{born}, {account.alive} alive{alive}, {dead} dead"


def _dates(account: Account) -> Iterator[tuple[str, str]]:
    if not account.due:
        yield "Due", f"not known: no mating, ovulation or scan is {UNKNOWN.removeprefix('not ')}"
        return
    driver = next((basis for basis in account.due if basis.drives), account.due[0])
    whelped = account.pups or account.caesarean
    yield "Due", _due(driver, whelped=bool(whelped))
    for other in account.due:
        if other is not driver:
            yield "Also", _due(other, whelped=bool(whelped))


def _due(basis: DueBasis, *, whelped: bool) -> str:
    counted_to = "whelped on" if whelped else "now"
    number = basis.day_of_count
    since = f"; {counted_to} day {number} from {basis.counted_from}" if number is not None else ""
    memory = " (formula from memory)" if basis.remembered else ""
    return (
        f"{day(basis.due)} (window {dates_text(basis.earliest, basis.latest)}), by {basis.basis} "
        f"on {date_text(basis.day)}{memory}{since}"
    )


def _vet(account: Account) -> str:
    dam = account.dam
    facts = [
        dam.vet,
        dam.vet_phone,
        f"at night {dam.night_phone}" if dam.night_phone else None,
        f"{dam.travel_minutes} min away" if dam.travel_minutes is not None else None,
    ]
    return ", ".join(fact for fact in facts if fact) or UNKNOWN


def stages_section(account: Account, reader: Reader) -> Section:
    """When each stage began and ended, the longest interval, how long she pushed."""
    columns = (
        Column("Stage", 3.2), Column("Start", 2.4), Column("End", 2.4), Column("Length", 1.6),
        Column("Began with", 2.4), Column("Ended with", 2.4),
    )  # fmt: skip
    rows = tuple(_stage(stage, reader) for stage in account.stages)
    table = Table(columns, rows, "No stage of labour was written down.")
    blocks: list[Table | Facts | Words] = [table, Facts(_labour(account))]
    if account.pushing is not None:
        blocks.append(Words(_COUNTED, "dim"))
    return Section("Stages of labour", tuple(blocks))


def _stage(stage: Stage, reader: Reader) -> tuple[Cell, ...]:
    start = (
        UNKNOWN
        if stage.start is None
        else about(stage.start, reader, estimated=stage.start_estimated)
    )
    end = "goes on" if stage.running else UNKNOWN
    if stage.end is not None:
        end = about(stage.end, reader, estimated=stage.end_estimated)
    span = length(stage.length)
    if stage.running and span:
        span = f"{span} so far"
    if span and (stage.start_estimated or stage.end_estimated):
        span = f"about {span}"
    words = (_STAGES[stage.number], start, end, span, stage.starts_with, stage.ends_with)
    return tuple(Cell(text) for text in words)


def _labour(account: Account) -> tuple[tuple[str, str], ...]:
    rows = []
    longest, pushing = account.longest_interval, account.pushing
    if longest is not None:
        called = names(account)
        between = f"from {called[longest.after]} to {called[longest.before]}"
        lead = "about " if longest.estimated else ""
        rows.append(("Longest interval", f"{lead}{length(longest.length)}, {between}"))
    if pushing is None:
        rows.append(("Contractions", UNKNOWN))
    else:
        rows.append(("Strong contractions", _pushed(account)))
        if pushing.weak_pushes:
            rows.append(("Weak contractions", _in_all(pushing.weak, pushing.weak_pushes)))
    return tuple(rows)


def _pushed(account: Account) -> str:
    pushing = account.pushing
    if pushing is None or not pushing.strong_pushes:
        return "none written down"
    longest = (
        f"; the longest without a pup or a rest {length(pushing.longest_strong)}"
        if pushing.longest_strong
        else ""
    )
    unsaid = pushing.of_no_strength
    strength = f"; {unsaid} of them with no strength stated" if unsaid else ""
    if unsaid == pushing.strong_pushes:
        strength = "; no strength stated"
    return f"{_in_all(pushing.strong, pushing.strong_pushes)}{longest}{strength}"


def _in_all(span: timedelta, pushes: int) -> str:
    """How long she pushed, from how many lines; of a single push nobody knows how long."""
    lines = counted(pushes, "line", "lines")
    if span < timedelta(minutes=1):
        return f"{lines} written down, for how long is not known"
    return f"{length(span)} in all, from {lines}"


def _last_seen(account: Account, reader: Reader) -> Iterator[tuple[str, str]]:
    dam = [one for one in account.temperatures if one.where == "dam"]
    temperature = UNKNOWN
    if dam:
        last, highest = dam[-1], max(dam, key=lambda one: one.celsius)
        temperature = f"{reader.temperature(last.celsius)}, {reader.moment(last.at)}"
        if highest.celsius > last.celsius:
            at = reader.moment(highest.at)
            temperature += f"; the highest {reader.temperature(highest.celsius)}, {at}"
    yield "Last temperature", temperature
    yield "Last discharge", _discharge(account, reader)
    yield "Last state", _looked(account, reader)


def _discharge(account: Account, reader: Reader) -> str:
    """The last few, the newest first: what was green before is not undone by a clear one."""
    if not account.discharges:
        return UNKNOWN
    return "; ".join(_seen(one, reader) for one in account.discharges[: -_LATEST - 1 : -1])


def _seen(one: DischargeSeen, reader: Reader) -> str:
    words = told(Discharge(colour=one.colour, amount=one.amount, foul=one.foul), reader)
    return f"{words[:1].lower()}{words[1:]}, {about(one.at, reader, estimated=one.estimated)}"


def _looked(account: Account, reader: Reader) -> str:
    """Her last states, the newest first: that may be no more than that she drank."""
    if not account.dam_seen:
        return UNKNOWN
    return "; ".join(
        f"{', '.join(DAM_WORDS[sign] for sign in seen.signs)}, "
        f"{about(seen.at, reader, estimated=seen.estimated)}"
        for seen in account.dam_seen[: -_LATEST - 1 : -1]
    )


def spoken(account: Account) -> str:
    """The line under the title: which litter, as of when, and whether it is over."""
    over = account.finished
    if over is None and account.phase != "after whelping":
        return "NOT FINISHED: the whelping had not been written down as over"
    return f"whelping over, {in_words(account.at - over)} ago" if over else "whelping over"
