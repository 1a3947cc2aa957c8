import json

import pytest
from syrupy.assertion import SnapshotAssertion

from boxlamp.planning.kit import ITEMS
from boxlamp.view.text import width_of
from support.calls import Caller


@pytest.fixture
def kit(bramble: Caller) -> Caller:
    """Bramble, due on the seventh of March."""
    bramble.good("log", "ovulation", "2026-01-03")
    return bramble


def ready(call: Caller) -> set[str]:
    """What is ready, as other programs read it."""
    items = json.loads(call.good("kit", "--json"))["items"]
    return {item["id"] for item in items if item["ready"]}


def test_the_list(kit: Caller, snapshot: SnapshotAssertion) -> None:
    """At 80 columns, letter for letter; what is missing, and by when, comes last."""
    kit.good("kit", "towels")

    assert kit.good("kit") == snapshot


def test_ticking_off(kit: Caller, snapshot: SnapshotAssertion) -> None:
    """One item: the entry as it was understood, how much is ready, what is missing."""
    assert kit.good("kit", "towel") == snapshot


def test_an_item_is_an_entry_of_the_record(kit: Caller) -> None:
    """Ticked off, used up, ready again: three entries, by name, with who typed them."""
    assert ready(kit) == {"vet-number"}
    kit.good("kit", "thermo", "--by", "Jana")
    assert ready(kit) == {"vet-number", "thermometer"}
    kit.good("kit", "thermometer", "--missing")
    assert ready(kit) == {"vet-number"}
    kit.good("log", "kit", "box", "thermometer", "ready")

    assert ready(kit) == {"vet-number", "box-thermometer"}
    last = [json.loads(line) for line in kit.good("export").splitlines()[-3:]]
    assert [(one["what"]["item"], one["what"]["have"]) for one in last] == [
        ("thermometer", True), ("thermometer", False), ("box-thermometer", True)
    ]  # fmt: skip
    assert last[0]["by"] == "Jana"


@pytest.mark.parametrize("command", [("kit",), ("log", "kit")])
@pytest.mark.parametrize(
    ("typed", "near"),
    [("vet", "It may mean vet-number, vet-told."), ("towls", "It may mean towels."),
     ("wibble", "no one thing on the kit list is called 'wibble'. `boxlamp kit`")],
)  # fmt: skip
def test_an_item_that_is_not_clear_is_refused(
    kit: Caller, command: tuple[str, ...], typed: str, near: str
) -> None:
    """With the near ones named; nothing is written down."""
    before = kit.good("export")
    said = kit(*command, typed)

    assert (said.code, said.out) == (2, "")
    assert near in said.err
    assert kit.good("export") == before


@pytest.mark.parametrize("typed", ["x" * 101, "\x1b[2J", '"', "'", "-"])
def test_a_hostile_item_is_refused_in_a_sentence(kit: Caller, typed: str) -> None:
    """No traceback, no control code, nothing written down."""
    before = kit.good("export")
    said = kit("kit", "--", typed)

    assert said.code == 2
    assert "Traceback" not in said.err
    assert "\x1b" not in said.err
    assert kit.good("export") == before


def test_an_amended_item_is_made_sure_of_too(kit: Caller) -> None:
    """A correction goes through the same gate."""
    kit.good("kit", "towels")
    kit.good("log", "amend", "4", "kit", "torc")
    assert ready(kit) == {"vet-number", "torch"}
    assert kit("log", "amend", "4", "kit", "wibble").code == 2


def test_a_number_in_the_record_is_ready_by_itself(kit: Caller) -> None:
    """Written down with `set`; the list says how as long as it is missing."""
    assert "night-number: boxlamp log set night-phone" in kit.good("kit")
    kit.good("log", "set", "night-phone", "000", "555", "011")

    assert ready(kit) == {"vet-number", "night-number"}
    assert "set night-phone" not in kit.good("kit")


def test_by_when(kit: Caller, bramble: Caller) -> None:
    """Counted back from the day she is due; without one, no day and where to find out."""
    found = json.loads(kit.good("kit", "--json"))
    by = {item["id"]: item["by"] for item in found["items"]}

    assert (by["box"], by["towels"]) == ("2026-02-21", "2026-02-28")
    assert (found["ready"], found["of"]) == (1, len(ITEMS))
    bramble.good("log", "strike", "3", "wrong", "day")
    assert "No due day is known yet: see `boxlamp due`." in " ".join(bramble.good("kit").split())
    assert {item["by"] for item in json.loads(bramble.good("kit", "--json"))["items"]} == {None}


def test_plain_is_one_item_a_line(kit: Caller) -> None:
    """Name, group, ready or missing, by when, what it is."""
    *lines, caution = (line.split("\t") for line in kit.good("kit", "--plain").splitlines())

    assert [line[1] for line in lines] == [item.id for item in ITEMS]
    assert {len(line) for line in lines} == {6}
    assert caution[0] == "caution"


@pytest.mark.parametrize("columns", [40, 80])
@pytest.mark.parametrize("words", [("kit",), ("kit", "--why"), ("kit", "scale")])
def test_it_keeps_to_the_width(
    kit: Caller, columns: int, words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    """COLUMNS is honoured, and every item's name is there."""
    monkeypatch.setenv("COLUMNS", str(columns))
    out = kit.good(*words)

    assert all(width_of(line) <= columns for line in out.splitlines()[1 if len(words) > 1 else 0 :])
    if words == ("kit",):
        assert all(f" {item.id}" in out for item in ITEMS)


def test_everything_ready(kit: Caller) -> None:
    """Then nothing is missing, and the plan says so too."""
    for item in ITEMS:
        kit.good("kit", item.id)
    out = kit.good("kit")

    assert "Nothing is missing." in out
    assert "[ ]" not in out
    assert "done Everything on the kit list ready" in " ".join(kit.good("due").split())


def test_calls_that_make_no_sense(kit: Caller) -> None:
    """`--missing` needs an item, and nothing is ticked off in the past."""
    assert "Say what is missing" in kit("kit", "--missing").err
    assert "ticked off now" in kit("kit", "towels", "--at", "-1h").err
