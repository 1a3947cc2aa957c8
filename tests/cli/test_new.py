from decimal import Decimal

import pexpect
import pytest

from boxlamp.journal import open_journal
from boxlamp.model.happenings import Details, Expect, Mating
from support.calls import PROGRAM, Caller, surroundings

FACTS = {
    "--breed": "Border Terrier", "--weight": "7.2kg", "--breed-birth-weight": "190g",
    "--age": "3y", "--first-litter": "yes",
    "--earlier-dystocia": "no", "--earlier-caesarean": "no", "--flat-faced": "no", "--toy": "no",
    "--mated": "2025-12-28", "--ovulation": "2025-12-30", "--lh": "2025-12-29",
    "--progesterone": "6.2ng 2025-12-30", "--dioestrus": "2026-01-06", "--expect": "5 xray",
    "--vet": "Dr Novak", "--vet-phone": "000 555 010", "--night-phone": "000 555 011",
    "--travel": "25", "--zone": "Europe/London",
}  # fmt: skip


def kinds(call: Caller) -> list[str]:
    """What the litter in use begins with."""
    with open_journal(call.journal) as journal:
        current = journal.current()
        assert current is not None
        return [entry.what.kind for entry in journal.entries(current.slug)]


def test_only_the_name_is_needed(call: Caller) -> None:
    """The answer names the litter and what to do next."""
    out = call.good("new", "--dam", "Bramble")

    assert out.startswith("Litter bramble-2026-03-02 is open and in use.\n")
    assert out.splitlines()[-1].startswith("Next: ")
    assert kinds(call) == ["details"]


def test_what_was_understood_is_told_back(call: Caller) -> None:
    """A weight without a unit is told back with the one that was taken."""
    out = call.good("new", "--dam", "Bramble", "--weight", "29", "--mated", "2026-01-02")

    assert "Understood: dam Bramble, weight 29kg, " in out
    assert "mated Fri 2 Jan 2026." in out


@pytest.mark.parametrize(("age", "taken"), [("25", True), ("25.1", False), ("2019", False)])
def test_a_year_of_birth_is_no_age(call: Caller, age: str, taken: bool) -> None:  # noqa: FBT001
    """Nothing is opened with it; the refusal shows what is meant."""
    done = call("new", "--dam", "Bramble", "--age", age)

    assert (done.code == 0) is taken
    assert taken or "--age: that is no age in years. For example: 5y" in done.err


def test_everything_can_be_given(call: Caller) -> None:
    """Every option is kept: the details in one entry, each dated fact in its own."""
    call.good("new", "--dam", "Bramble", *(word for pair in FACTS.items() for word in pair))

    assert kinds(call) == ["details", "mating", *["ovulation"] * 4, "expect"]
    with open_journal(call.journal) as journal:
        details = journal.entries("bramble-2026-03-02")[0].what
    assert isinstance(details, Details)
    left_open = [name for name, value in details.model_dump().items() if value is None]
    assert not left_open
    assert (details.zone, details.travel_minutes) == ("Europe/London", 25)


@pytest.mark.parametrize("words", [(), ("--no-input",), ("--breed", "Whippet")])
def test_without_a_terminal_it_never_asks(call: Caller, words: tuple[str, ...]) -> None:
    """A missing name is refused with the option that gives it; nothing is made."""
    said = call("new", *words)

    assert said.code == 2
    assert "boxlamp new --dam NAME" in said.err
    assert not call.journal.exists()


@pytest.mark.parametrize(
    ("option", "value"),
    [("--weight", "heavy"), ("--expect", "lots"), ("--mated", "2027-01-01"), ("--zone", "Narnia"),
     ("--travel", "far"), ("--first-litter", "maybe")],
)  # fmt: skip
def test_a_fact_that_cannot_be_is_refused(call: Caller, option: str, value: str) -> None:
    """The sentence names the option; no litter is opened."""
    said = call("new", "--dam", "Bramble", option, value)

    assert said.code == 2
    assert option.strip("-") in said.err
    assert "Traceback" not in said.err
    assert not call.journal.exists()


def test_two_litters_of_one_dam_on_one_day(call: Caller) -> None:
    """Each has an id of its own; the newer one is in use."""
    call.good("new", "--dam", "Bramble")
    out = call.good("new", "--dam", "Bramble")

    assert "bramble-2026-03-02 " not in out
    assert out.startswith("Litter bramble-2026-03-02-2 ")


def test_at_a_terminal_it_asks_for_what_is_missing(call: Caller) -> None:
    """Enter leaves a question open; an answer that is not understood is asked again."""
    call.journal.parent.mkdir()
    child = pexpect.spawn(
        str(PROGRAM), ["new"], env=surroundings(call.journal), encoding="utf-8", timeout=20
    )
    child.expect("The dam's name: ")
    child.sendline("Bramble")
    child.expect("Her breed")
    child.sendline("")
    child.expect("Her weight")
    child.sendline("heavy")
    child.expect("Her weight")
    child.sendline("7.2kg")
    while child.expect([r": $", "is open and in use"]) == 0:
        child.sendline("")
    child.expect(pexpect.EOF)
    child.close()

    assert child.exitstatus == 0
    with open_journal(call.journal) as journal:
        [litter] = journal.litters()
        [opening] = journal.entries(litter.slug)
    assert isinstance(opening.what, Details)
    assert (opening.what.dam, opening.what.weight) == ("Bramble", Decimal(7200))
    assert opening.what.breed is None


def test_answers_as_people_give_them(call: Caller) -> None:
    """Who does not know leaves a question open; what cannot be read is answered as an answer."""
    call.journal.parent.mkdir()
    child = pexpect.spawn(
        str(PROGRAM), ["new"], env=surroundings(call.journal), encoding="utf-8", timeout=20
    )
    for asked, answers in (
        ("The dam's name: ", ["Bramble"]),
        ("Her breed", [""]),
        ("Her weight", ["don't know"]),
        ("Her age", [""]),
        ("her first litter", ["yeah"]),
        ("difficult whelping", ["nope"]),
        ("caesarean before", ["not sure"]),
        ("First mating", ["26/02/2026", "end of february", "2026-01-01"]),
        ("Ovulation day", [""]),
        ("Pups expected", ["5-6", "about 6"]),
        ("Your vet's name", [""]),
        ("The vet's number", [""]),
        ("number at night", [""]),
        ("by car", [""]),
    ):
        for answer in answers:
            child.expect(asked)
            child.sendline(answer)
            if answer == "26/02/2026":
                child.expect("For example: 2026-02-26")
            if answer == "end of february":
                child.expect("end of february: that could not be read as an answer")
            if answer == "5-6":
                child.expect("the higher, if it may be two. +For example: 6")
    child.expect("is open and in use")
    child.expect(pexpect.EOF)

    with open_journal(call.journal) as journal:
        [litter] = journal.litters()
        opening, mated, expected = (entry.what for entry in journal.entries(litter.slug))
    assert isinstance(opening, Details)
    assert (opening.first_litter, opening.earlier_dystocia) == (True, False)
    assert (opening.weight, opening.earlier_caesarean) == (None, None)
    assert isinstance(mated, Mating)
    assert expected == Expect(count=6, method="guess")


def test_no_input_at_a_terminal_never_asks(call: Caller) -> None:
    """With --no-input a terminal is treated like a script."""
    child = pexpect.spawn(
        str(PROGRAM), ["new", "--no-input"], env=surroundings(call.journal), timeout=20
    )
    child.expect(pexpect.EOF)
    child.close()

    assert child.exitstatus == 2
    assert b"--dam NAME" in child.before


def test_a_doubt_is_asked_at_a_terminal(bramble: Caller) -> None:
    """`log` asks about an odd line at a terminal: no leaves it out, yes writes it down."""
    for answer, code, count in (("n", 2, 2), ("y", 0, 3)):
        child = pexpect.spawn(
            str(PROGRAM), ["log", "pup", "9000g"], env=surroundings(bramble.journal), timeout=20
        )
        child.expect("Write it down as it stands")
        child.sendline(answer)
        child.expect(pexpect.EOF)
        child.close()
        assert child.exitstatus == code
        assert len(kinds(bramble)) == count
