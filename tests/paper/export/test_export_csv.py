import csv
import io
import re
import unicodedata
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any, get_args
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import (
    Amend,
    Birth,
    Death,
    Limit,
    Milestone,
    Note,
    Strike,
    Treatment,
    VetContact,
    What,
)
from boxlamp.model.seen import MilestoneName, StepName
from boxlamp.paper.account.account import account_of
from boxlamp.paper.account.evidence import Digest, PupWeights, Weighed
from boxlamp.paper.account.models import (
    Account,
    Afterbirths,
    AlertAccount,
    Correction,
    Dam,
    Done,
    Heard,
    Line,
    PupAccount,
    Reached,
    Reaching,
    StepDone,
    Viability,
)
from boxlamp.paper.export.cells import harmless
from boxlamp.paper.export.csv_tables import TableName, table
from support.accounts import entries_of, matter_of
from support.nights import DEMO

PRAGUE = ZoneInfo("Europe/Prague")
TWO = datetime(2026, 3, 2, 1, 0, tzinfo=UTC)
"""Two in the morning in Prague."""
TABLES: tuple[TableName, ...] = get_args(TableName)


def at(minutes: float) -> datetime:
    return TWO + timedelta(minutes=minutes)


def typed(number: int, what: What, text: str = "", note: str = "", by: str = "Jana") -> Entry:
    facts = {"at": at(number), "zone": "Europe/Prague", "text": text, "note": note}
    draft = Draft.model_validate({**facts, "what": what.model_dump()})
    return draft.numbered(number, "ash", at(number + 1), by)


def account(**parts: Any) -> Account:  # noqa: ANN401 - the parts of an account, of any kind
    """An account with these parts and nothing else in it."""
    whole = {
        "litter": "ash", "at": at(600), "zone": "Europe/Prague", "protocol": "1",
        "phase": "labour", "dam": Dam(), "digest": Digest(sha256="0" * 64, entries=0),
        "afterbirths": Afterbirths(pups=0, passed=0, owed_by=(), not_seen_of=()),
    }  # fmt: skip
    return Account.model_validate({**whole, **parts})


def rows(whole: Account, name: TableName) -> list[dict[str, str]]:
    """A table read back as any program would."""
    return list(csv.DictReader(io.StringIO(table(whole, name, PRAGUE), newline=""), strict=True))


RED = PupAccount(
    order=1, number=1, born=at(0), sex="dog", birth_weight_g=Decimal(312),
    weight_g=Decimal("330.5"), weighed=at(1440), mark="red", presentation="head",
    state_at_birth="alive", state="well", afterbirth="eaten", afterbirth_at=at(6),
    first_milk=at(40), steps=(
        StepDone(step="cord", at=at(2), finding="bleeding"),
        StepDone(step="cord", at=at(4), finding="tied"), StepDone(step="milk", at=at(40)),
    ), viability=Viability(total=7, items_taken=4, at=at(5), items=(2, 2, None, 1, 2)),
)  # fmt: skip
BLUE = PupAccount(
    order=2, number=2, born=at(45), estimated=True, interval=timedelta(minutes=45), died=at(90),
    died_of="too weak", by_caesarean=True, chip="900000000000001", left_home=None,
    milestones=(Reaching(milestone="eyes-open", at=at(60)),),
)  # fmt: skip
STALL = AlertAccount(
    rule="gap", title="A long gap", subject="dam", level="call", message="2 h without a pup.",
    since=at(45), limit=timedelta(hours=2), raised=at(105), typed=at(46), ended=at(180),
    levels=(Reached(level="watch", at=at(105)), Reached(level="call", at=at(165))),
    ended_by=(Done(entry=9, at=at(180), words="Pup 3 born"),), acknowledged=at(170),
    acknowledged_by="Jana", entries=(4, 6),
    heard=(Heard(level="watch", at=at(110), by="Ota"), Heard(level="call", at=at(170), by="Jana")),
    done=(Done(entry=7, at=at(120), words="Vet called"),
          Done(entry=8, at=at(170), words="Left for the vet")),
)  # fmt: skip


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_what_the_standard_says(name: TableName) -> None:
    """Lines end in CR LF, every one has as many cells as the first, quotes are doubled."""
    said = 'he said "no", twice\r\nand left'
    line = Line(typed=typed(1, Note(words=said), said), reads=None)
    whole = account(
        pups=(RED.model_copy(update={"mark": said}),), timeline=(line,), alerts=(STALL,),
        weights=(PupWeights(pup=1, weights=(Weighed(at=at(0), grams=Decimal(312)),)),),
    )  # fmt: skip
    text = table(whole, name, PRAGUE)

    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert "\r" not in text.replace("\r\n", "")
    read = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert len(read) == 2
    assert len(read[0]) == len(set(read[0])) == len(read[1])
    if name != "alerts":
        assert '"he said ""no"", twice  and left"' in text


@pytest.mark.parametrize("name", TABLES)
def test_an_empty_table_still_names_its_columns(name: TableName) -> None:
    """A program that reads it finds the columns of any other litter."""
    assert rows(account(), name) == []
    assert len(table(account(), name, PRAGUE).split(",")) > 5


def as_json(cell: str, like: object) -> object:
    """A cell read back as the kind of value that JSON holds for the same fact."""
    match like:
        case None:
            assert not cell
            return None
        case bool():
            return {"true": True, "false": False}[cell]
        case int() | float():
            return float(cell)
        case str() if re.fullmatch(r"\d{4}-\d\d-\d\dT.*Z", like):
            moment = datetime.fromisoformat(cell)
            assert moment.utcoffset() is not None
            return moment.astimezone(UTC).isoformat().replace("+00:00", "Z")
        case _:
            return cell


def assert_same(row: dict[str, str], facts: dict[str, Any]) -> None:
    """Every fact has a column of its own name with the same value."""
    for name, value in facts.items():
        assert as_json(row[name], value) == value, name


def assert_pup(row: dict[str, str], pup: PupAccount) -> None:
    facts = pup.model_dump(mode="json", by_alias=True)
    steps, score = facts.pop("steps"), facts.pop("viability")
    facts["standing"] = "; ".join(facts["standing"])
    assert row["notes"] == "; ".join(map(harmless, (one["words"] for one in facts.pop("notes"))))
    reached = {one["milestone"]: one["at"] for one in facts.pop("milestones")}
    facts |= {f"{m.replace('-', '_')}_at": reached.get(m) for m in get_args(MilestoneName)}
    items = ("heart_rate", "breathing", "reflex", "movement", "colour")
    values = score.pop("items") if score else [None] * 5
    score = score or dict.fromkeys(("total", "items_taken", "at"))
    facts |= {f"viability_{name}": value for name, value in score.items()}
    facts |= {f"viability_{name}": value for name, value in zip(items, values, strict=True)}
    findings = "; ".join(f"{one['step']}: {one['finding']}" for one in steps if one["finding"])
    assert_same(row, {**facts, "findings": findings})
    for step in get_args(StepName):
        times = [one.at for one in pup.steps if one.step == step]
        cells = filter(None, row[f"{step.replace('-', '_')}_at"].split("; "))
        assert [datetime.fromisoformat(one) for one in cells] == times
    assert all(one.step in get_args(StepName) for one in pup.steps)


def assert_alert(row: dict[str, str], alert: AlertAccount) -> None:
    facts = alert.model_dump(mode="json", by_alias=True)
    levels = {one["level"]: one["at"] for one in facts.pop("levels")}
    ended, done, entries = facts.pop("ended_by"), facts.pop("done"), facts.pop("entries")
    heard = facts.pop("heard")
    noticed = {one["level"]: one["at"] for one in heard}
    facts |= {f"{word}_at": levels.get(word) for word in ("watch", "call", "go")}
    facts |= {f"{word}_heard": noticed.get(word) for word in ("watch", "call", "go")}
    assert_same(row, facts)
    for column, wanted in (
        ("ended_by", [one["entry"] for one in ended]),
        ("ended_by_words", [one["words"] for one in ended]),
        ("done", [one["entry"] for one in done]),
        ("done_words", [one["words"] for one in done]),
        ("entries", entries),
        ("heard_by", [one["by"] for one in heard]),
    ):
        assert row[column] == "; ".join(harmless(str(one)) for one in wanted)
    times = [datetime.fromisoformat(one) for one in filter(None, row["done_at"].split("; "))]
    assert times == [one.at for one in alert.done]


def test_pups_read_back_field_for_field() -> None:
    """Every field of a pup has its column, and what is unknown is an empty cell."""
    red, blue = rows(account(pups=(RED, BLUE)), "pups")

    assert_pup(red, RED)
    assert_pup(blue, BLUE)
    assert red["born"] == "2026-03-02T02:00:00+01:00"
    assert red["cord_at"] == "2026-03-02T02:02:00+01:00; 2026-03-02T02:04:00+01:00"
    assert red["findings"] == "cord: bleeding; cord: tied"
    assert (red["weight_g"], red["interval_s"], blue["interval_s"]) == ("330.5", "", "2700")
    assert (blue["sex"], blue["birth_weight_g"], blue["estimated"]) == ("", "", "true")


def test_alerts_read_back_field_for_field() -> None:
    """Every field of an alert has its column; each level the time it was reached."""
    still = STALL.model_copy(
        update={"ended": None, "ended_by": (), "done": (), "acknowledged": None}
    )
    ended, standing = rows(account(alerts=(STALL, still)), "alerts")

    assert_alert(ended, STALL)
    assert_alert(standing, still)
    assert (ended["limit_s"], ended["go_at"], ended["entries"]) == ("7200", "", "4; 6")
    assert ended["done_words"] == "Vet called; Left for the vet"


@pytest.mark.parametrize("path", sorted(DEMO.glob("*.night")), ids=lambda path: path.stem)
def test_every_demo_night_reads_back_as_its_account(path: Path) -> None:
    """Pups, weights, lines and alerts: as many rows, in the same order, with the same values."""
    whole = account_of(matter_of(entries_of(path.stem)))

    for pup_row, pup in zip(rows(whole, "pups"), whole.pups, strict=True):
        assert_pup(pup_row, pup)
    for alert_row, alert in zip(rows(whole, "alerts"), whole.alerts, strict=True):
        assert_alert(alert_row, alert)
    weights = [(one.pup, taken) for one in whole.weights for taken in one.weights]
    for row, (number, taken) in zip(rows(whole, "weights"), weights, strict=True):
        assert_same(row, {"pup": number, "weight_g": float(taken.grams)})
        assert datetime.fromisoformat(row["at"]) == taken.at
    for row, line in zip(rows(whole, "timeline"), whole.timeline, strict=True):
        reads = (line.reads or line.typed).model_dump(mode="json")
        assert_same(row, {"entry": line.typed.id, "kind": reads["what"]["kind"]})
        assert_same(row, {key: reads[key] for key in ("at", "recorded", "certainty")})
        assert (row["text"], row["by"]) == (harmless(line.typed.text), harmless(line.typed.by))
        assert row["told"]


def test_weights_tell_age_and_growth() -> None:
    """In completed days since birth and in per cent of the birth weight, where there is one."""
    taken = (Weighed(at=at(0), grams=Decimal(312)), Weighed(at=at(2879), grams=Decimal("405.6")))
    others = (Weighed(at=at(100), grams=Decimal(250)),)
    whole = account(
        pups=(RED, BLUE),
        weights=(PupWeights(pup=1, weights=taken), PupWeights(pup=2, weights=others),
                 PupWeights(pup=7, weights=others)),
    )  # fmt: skip

    assert [list(row.values()) for row in rows(whole, "weights")] == [
        ["1", "red", "2026-03-02T02:00:00+01:00", "312", "0", "100"],
        ["1", "red", "2026-03-04T01:59:00+01:00", "405.6", "1", "130"],
        ["2", "", "2026-03-02T03:40:00+01:00", "250", "0", ""],
        ["7", "", "2026-03-02T03:40:00+01:00", "250", "", ""],
    ]


def test_a_timeline_shows_what_was_changed_by_whom_and_why() -> None:
    """A line stands, is amended or struck; who, when, why, and what it read before stay beside."""
    born = typed(1, Birth(pup=1, sex="dog"), "pup dog")
    reads = born.model_copy(update={"what": Birth(pup=1, sex="bitch"), "at": at(0)})
    amend = typed(2, Amend(target=1, what=Birth(pup=1, sex="bitch"), retimed=True), note="misread")
    undone = typed(3, Amend(target=1, what=Birth(pup=1)), "amend 1 pup", by="Petr")
    milk = typed(5, Note(words="twice"), "twice")
    strike = typed(6, Strike(target=5, why="seen once"), by="Petr")
    quiet = typed(8, Note(words="quiet"), "note quiet", note="at last")
    whole = account(
        timeline=(
            Line(typed=born, reads=reads, corrections=(
                Correction(entry=amend, stands=True, before=born),
                Correction(entry=undone, stands=False, before=reads, withdrawn_by=4))),
            Line(typed=milk, reads=None, corrections=(
                Correction(entry=strike, stands=True, before=milk),)),
            Line(typed=quiet, reads=quiet),
        ),
    )  # fmt: skip
    amended, struck, stands = rows(whole, "timeline")

    assert (amended["state"], struck["state"], stands["state"]) == ("amended", "struck", "stands")
    assert amended["at"] == "2026-03-02T02:00:00+01:00"
    assert amended["at_before"] == "2026-03-02T02:01:00+01:00"
    assert "bitch" in amended["told"]
    assert "dog" in amended["told_before"]
    assert (amended["corrected_by"], amended["withdrawn_corrections"]) == ("2", "3")
    assert (amended["corrected_who"], amended["reason"]) == ("Jana", "misread")
    assert amended["corrected_at"] == "2026-03-02T02:03:00+01:00"
    assert (struck["corrected_by"], struck["reason"]) == ("6", "seen once")
    assert (struck["text"], struck["told_before"]) == ("twice", "")
    assert (stands["corrected_by"], stands["note"], stands["entry"]) == ("", "at last", "8")


def test_times_keep_their_instant_in_an_hour_that_comes_twice() -> None:
    """The offset tells the first 02:30 of the night the clocks go back from the second."""
    first = datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    pups = tuple(PupAccount(order=n, number=n, born=first + timedelta(hours=n - 1)) for n in (1, 2))

    assert [row["born"] for row in rows(account(pups=pups), "pups")] == [
        "2026-10-25T02:30:00+02:00", "2026-10-25T02:30:00+01:00",
    ]  # fmt: skip


FULL = "\uff1d\uff0b\uff0d\uff20"
STARTS = st.sampled_from(
    ["", "=", "+", "-", "@", "\t=", "\r=", "\n@", " =", "  -", '"=', "'=", "\u201c+", "\u00a0=",
     ";=", "x;=", 'x";"-', "; ;@", *FULL, f" {FULL}", "\ufe63", "\u2212", "\u207a",
     "=cmd|' /C calc'!A0"]
)  # fmt: skip
EVIL = st.builds("".join, st.lists(STARTS | st.text(max_size=6), max_size=4))


def computed(text: str) -> bool:
    """Whether a careless spreadsheet would compute a cell: a number is no formula."""
    if re.fullmatch(r"-?\d+(\.\d+)?", text):
        return False
    bare = (
        unicodedata.normalize("NFKC", text).strip().lstrip('"\u201c\u201d\u201e` \u00a0').lstrip()
    )
    return bare[:1] in {"=", "+", "-", "@", "\u2212"} or text[:1] in {"\t", "\r", "\n"}


def cells(text: str) -> Iterator[str]:
    """Every cell, as it is for a program that parts at commas and for one that parts at ``;``."""
    for row in csv.reader(io.StringIO(text, newline="")):
        for one in row:
            yield one
            yield from one.split(";")


def test_a_formula_would_be_seen() -> None:
    """The reference below finds what it is for, and lets numbers and words be."""
    assert all(map(computed, ["=1", " =1", '"=1', "\uff1d1", "-x", "@a", "\t1", "\u2212x"]))
    assert not any(map(computed, ["-1", "2.5", "x=1", "'=1", "red", ""]))


@st.composite
def hostile_accounts(draw: st.DrawFn) -> Account:
    """Accounts in which everything that a person can type may be a formula."""
    said = EVIL.map(lambda text: text.encode("utf-8", "replace").decode())
    some = [draw(said) for _ in range(8)]
    pup = PupAccount(
        order=1, number=1, born=at(0), mark=some[0], chip=some[1], state=some[2], died_of=some[3],
        presentation=some[4], steps=(StepDone(step="marked", at=at(1), finding=some[5]),),
    )  # fmt: skip
    done = (Done(entry=1, at=at(1), words=some[0]), Done(entry=2, at=at(1), words=some[1]))
    alert = AlertAccount(
        rule=some[2], title=some[3], subject=some[4], level="go", message=some[5], since=at(0),
        limit=timedelta(0), raised=at(0), levels=(), typed=at(0), ended_by=done, done=done,
        acknowledged_by=some[6],
    )  # fmt: skip
    whats: list[What] = [
        Note(words=some[0]), Note(words=some[1], unread=True), Treatment(what=some[2], by=some[3]),
        VetContact(contact="called", said=some[4]), Death(pup=1, why=some[5]),
        Birth(pup=2, mark=some[6]), Milestone(milestone="chipped", pup=1, number=some[7]),
        Limit(rule=some[0], level="go", seconds=0, by=some[1], why=some[2]),
    ]  # fmt: skip
    strike = Correction(entry=typed(9, Strike(target=1, why=some[7]), by=some[6]), stands=True)
    lines = tuple(
        Line(typed=typed(1, what, some[3], some[4], some[5]), reads=None, corrections=(strike,))
        for what in whats
    )
    weights = (PupWeights(pup=1, weights=(Weighed(at=at(1), grams=Decimal(300)),)),)
    return account(pups=(pup,), alerts=(alert,), timeline=lines, weights=weights)


@given(hostile_accounts())
@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_no_cell_is_ever_computed(whole: Account) -> None:
    """Marks, names, notes and reasons of any kind: nothing begins as a formula does."""
    for name in TABLES:
        text = table(whole, name, PRAGUE)
        found = [one for one in cells(text) if computed(one)]
        assert not found
        assert not any(
            unicodedata.category(sign) in {"Cc", "Cf"} and sign not in "\r\n" for sign in text
        )


@given(EVIL)
def test_text_is_changed_by_nothing_but_a_quote(said: str) -> None:
    """Harmless words stay exactly as they are; others get ``'`` signs and lose nothing else."""
    kept = harmless(said)

    assert kept.replace("'", "") == harmless(kept).replace("'", "")
    assert len(kept) - len(said) == kept.count("'") - said.count("'")
    assert harmless("red; 312 g, dog - head first") == "red; 312 g, dog - head first"
