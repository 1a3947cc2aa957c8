"""The first page: what a vet reads standing up."""

from collections.abc import Iterator
from datetime import datetime

from boxlamp.model.happenings import Discharge
from boxlamp.model.spans import in_words
from boxlamp.paper.account.evidence import DischargeSeen
from boxlamp.paper.account.models import Account, DueBasis, PupAccount, Stage
from boxlamp.paper.document import Cell, Column, Facts, Points, Role, Section, Table, Words
from boxlamp.paper.reader import Reader
from boxlamp.paper.summary.words import (
    UNKNOWN,
    about,
    day,
    length,
    level_role,
    listed,
    names,
    said,
    seen_alive,
    yes_or_no,
)
from boxlamp.paper.telling import told
from boxlamp.paper.telling_words import DAM_WORDS
from boxlamp.view.text import counted, date_text, dates_text

_HOW = {"xray": "x-ray", "scan": "scan", "guess": "a guess"}
_PRESENTED = {"head": "head first", "feet": "feet first", "rump": "rump first"}
_STAGES = {
    1: "1  first signs, cervix opening",
    2: "2  pups being born",
    3: "3  afterbirths passing",
}
_COUNTED = (
    "Contractions are counted from the first push of each bout to the pup, the rest or the last "
    "push that was written down next. Whether she pushed all the while is not known."
)
_ITEMS = 5
# How many of the latest words on her stand on the first page (our choice).
_LATEST = 3
_BY_THE_VET = ("advised", "arrived", "seen")


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
            seen = counted(pushing.weak_pushes, "was", "were")
            rows.append(("Weak contractions", f"{length(pushing.weak)} in all; {seen} noted"))
    return tuple(rows)


def _pushed(account: Account) -> str:
    pushing = account.pushing
    if pushing is None or not pushing.strong_pushes:
        return "none written down"
    seen = counted(pushing.strong_pushes, "was", "were")
    longest = (
        f"; the longest without a pup or a rest {length(pushing.longest_strong)}"
        if pushing.longest_strong
        else ""
    )
    unsaid = pushing.of_no_strength
    strength = f", {unsaid} of them of no stated strength" if unsaid else ""
    return f"{length(pushing.strong)} in all{longest}; {seen} noted{strength}"


def pups_section(account: Account, reader: Reader) -> Section:
    """One row per pup, in order of birth."""
    columns = (
        Column("No.", 0.8, "right"), Column("Born", 1.6), Column("Interval", 1.3),
        Column("Sex", 0.9), Column("Weight", 1.1, "right"), Column("Presented", 1.5),
        Column("State", 1.9), Column("Mark", 1.3), Column("Viability", 1.1),
        Column("Afterbirth", 1.4), Column("First milk", 1.4),
    )  # fmt: skip
    before = [None, *(pup.born for pup in account.pups)]
    rows = tuple(_pup(pup, last, reader) for pup, last in zip(account.pups, before, strict=False))
    blocks: list[Table | Words] = [Table(columns, rows, "No pup was written down.")]
    blocks += [Words(note, "dim") for note in _pup_notes(account)]
    return Section("Pups", tuple(blocks))


def _pup(pup: PupAccount, last: datetime | None, reader: Reader) -> tuple[Cell, ...]:
    """One row; the day stands with the first pup and wherever it changes."""
    number = "" if pup.number == pup.order else f" (pup {pup.number})"
    born = reader.moment(pup.born) if last is None else reader.beside(pup.born, last)
    weight = "" if pup.birth_weight_g is None else reader.weight(pup.birth_weight_g)
    return (
        Cell(f"{pup.order}{number}"),
        Cell(f"about {born}" if pup.estimated else born),
        Cell("first" if pup.interval is None else length(pup.interval)),
        Cell(pup.sex or ""),
        Cell(weight),
        Cell(_presented(pup)),
        Cell(*_state(pup)),
        Cell(pup.mark or ""),
        Cell(_viability(pup)),
        Cell(_afterbirth(pup, reader)),
        Cell(_milk(pup, reader)),
    )


def _presented(pup: PupAccount) -> str:
    if pup.by_caesarean:
        return "caesarean"
    return _PRESENTED.get(pup.presentation or "", pup.presentation or "")


def _state(pup: PupAccount) -> tuple[str, Role]:
    at_birth = pup.state_at_birth or ""
    if pup.died is not None:
        when = "born dead" if at_birth == "dead" else f"died, {length(pup.died - pup.born)} old"
        return (f"{when}: {pup.died_of}" if pup.died_of else when), "strong"
    now = pup.state or ("alive" if seen_alive(pup) else at_birth)
    return (f"limp at birth, now {now}" if at_birth == "limp" != now else now), ""


def _viability(pup: PupAccount) -> str:
    if pup.viability is None:
        return ""
    most = 2 * pup.viability.items_taken
    return f"{pup.viability.total} of {most}"


def _afterbirth(pup: PupAccount, reader: Reader) -> str:
    if pup.afterbirth == "caesarean":
        return "at caesarean"
    words = {"owed": "OWED", "not-seen": "not seen"}.get(pup.afterbirth, pup.afterbirth)
    return (
        words
        if pup.afterbirth_at is None
        else f"{words} {reader.beside(pup.afterbirth_at, pup.born)}"
    )


def _milk(pup: PupAccount, reader: Reader) -> str:
    return "" if pup.first_milk is None else reader.beside(pup.first_milk, pup.born)


def _pup_notes(account: Account) -> Iterator[str]:
    """What the table needs a reader to know, and only when it applies."""
    if not account.pups:
        return
    notes = ["An empty field was not written down."]
    scored = [pup.viability for pup in account.pups if pup.viability is not None]
    if scored:
        notes.append(
            "Viability: heart rate, breathing, reflex, movement and colour, 0 to 2 each"
            + (
                "; of fewer than five items the highest possible sum is given."
                if any(score.items_taken < _ITEMS for score in scored)
                else "."
            )
        )
    yield " ".join(notes)


def afterbirths_section(account: Account) -> Section:
    """Whether every pup has its afterbirth."""
    balance, called = account.afterbirths, names(account)
    pups = counted(balance.pups, "pup", "pups")
    passed = counted(balance.passed, "afterbirth", "afterbirths")
    all_by_surgeon = balance.pups > 0 and len(balance.with_caesarean) == balance.pups
    items = [Cell(f"{pups}." if all_by_surgeon else f"{pups}, {passed} passed.")]
    if balance.owed_by:
        owing = listed(called[number] for number in balance.owed_by)
        items.append(Cell(f"Owed, nobody has seen it: {owing}.", "strong"))
    if balance.not_seen_of:
        missed = listed(called[number] for number in balance.not_seen_of)
        items.append(Cell(f"Looked for and not seen: {missed}.", "strong"))
    if balance.with_caesarean:
        which = "All afterbirths" if all_by_surgeon else "The rest"
        items.append(Cell(f"{which} counted as taken out at the caesarean."))
    if balance.surplus:
        items.append(
            Cell(
                f"{counted(balance.surplus, 'afterbirth', 'afterbirths')} more than pups: "
                "a pup may not be written down.",
                "strong",
            )
        )
    return Section("Afterbirths", (Points(tuple(items)),))


def given_section(account: Account, reader: Reader) -> Section:
    """Treatments with who gave them, and what passed between the vet and this house."""
    contact = {
        "called": "vet rung", "advised": "vet advised", "arrived": "with the vet",
        "seen": "seen by the vet", "left-for": "left for the vet",
    }  # fmt: skip
    rows = [
        (given.at, about(given.at, reader, estimated=given.estimated), f"given: {given.what}",
         said(given.by))
        for given in account.given
    ] + [
        (one.at, about(one.at, reader, estimated=one.estimated),
         f"{contact[one.contact]}: {one.said}" if one.said else contact[one.contact],
         (account.dam.vet or "the vet") if one.contact in _BY_THE_VET else "")
        for one in account.contacts
    ]  # fmt: skip
    if account.caesarean is not None:
        rows.append((account.caesarean, reader.moment(account.caesarean), "caesarean", ""))
    columns = (Column("When", 2), Column("What", 5), Column("By", 2))
    table = Table(
        columns,
        tuple(tuple(Cell(text) for text in row[1:]) for row in sorted(rows)),
        "No treatment and no contact with the vet was written down.",
    )
    return Section("Treatments and the vet", (table,))


def open_section(account: Account, reader: Reader) -> Section:
    """What is still open and when to look again."""
    if not account.open:
        return Section("Still open", (Words("Nothing is open."),))
    items = []
    for point in account.open:
        lead = f"{point.level.upper()}: " if point.level and point.kind == "alert" else ""
        when = f" Look again: {reader.moment(point.when)}." if point.when is not None else ""
        words = reader.sentence(point.words)
        role = level_role(point.level) if point.kind == "alert" else ""
        items.append(Cell(f"{lead}{words}{when}", role))
    return Section("Still open", (Points(tuple(items)),))


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
