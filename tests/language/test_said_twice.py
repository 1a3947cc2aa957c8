"""A line that says two things of one kind starts every clock the worse of them would start."""

from datetime import timedelta
from itertools import combinations

import pytest

from boxlamp.language import Context, NotUnderstood, read_line
from boxlamp.language.terms import AMOUNTS, COLOURS
from boxlamp.model.entry import Draft, Entry
from boxlamp.model.happenings import Birth, Contraction, Discharge, Part, Waters, What
from boxlamp.model.levels import Level
from support.happenings import NOW
from support.nights import assessed

LATER = timedelta(minutes=35)


def entry(number: int, fact: What, ago: int) -> Entry:
    return Draft(at=NOW - timedelta(minutes=ago), what=fact).numbered(number, "night", NOW)


BEFORE = (entry(1, Contraction(strength="weak"), 5),)
AFTER = (entry(1, Birth(pup=1), 60),)


def box(entries: tuple[Entry, ...] = AFTER) -> Context:
    return Context.of(entries, NOW, "Europe/Prague")


def what(line: str, context: Context | None = None) -> What:
    return read_line(line, context or box()).draft.what


def codes(line: str, context: Context | None = None) -> list[str]:
    return [doubt.code for doubt in read_line(line, context or box()).doubts]


def raised(line: str, entries: tuple[Entry, ...]) -> dict[str, Level]:
    """The worst level of each alert that this one line has raised half an hour later."""
    draft = read_line(line, box(entries)).draft
    night = (*entries, draft.numbered(9, "night", NOW))
    return {alert.rule.id: alert.level for alert in assessed(night).verdict(NOW + LATER).alerts}


def covers(wide: dict[str, Level], narrow: dict[str, Level]) -> bool:
    """Whether every alert of the one is among the other, no less serious."""
    return all(rule in wide and wide[rule] >= level for rule, level in narrow.items())


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("discharge red heavy clots", Discharge(colour="red", amount="heavy")),
        ("discharge clots red heavy", Discharge(colour="red", amount="heavy")),
        ("discharge heavy clots", Discharge(amount="clots")),
        ("discharge red streak some", Discharge(colour="red", amount="some")),
        ("discharge red streak clots", Discharge(colour="red", amount="clots")),
        ("discharge clear green", Discharge(colour="green")),
        ("discharge brown and red heavy", Discharge(colour="red", amount="heavy")),
        ("discharge yellow pus", Discharge(colour="pus")),
        ("waters clear green", Waters(colour="green")),
        ("contraction weak strong", Contraction(strength="strong")),
        ("push strong weak", Contraction(strength="strong")),
        ("part feet tail", Part(part="feet")),
        ("pup limp alive", Birth(pup=2, state="limp")),
        ("pup alive limp", Birth(pup=2, state="limp")),
    ],
)
def test_the_more_serious_of_two_is_taken_and_said(line: str, wanted: What) -> None:
    """Nothing is refused for being said twice; the echo tells what counts."""
    heard = read_line(line, box())
    assert heard.draft.what == wanted
    assert heard.doubts == ()
    assert "count" in heard.echo or "taken as" in heard.echo


@pytest.mark.parametrize("entries", [BEFORE, AFTER], ids=["before the first pup", "after it"])
@pytest.mark.parametrize("colour", ["", *dict.fromkeys(COLOURS.values())])
def test_two_amounts_raise_what_either_raises(colour: str, entries: tuple[Entry, ...]) -> None:
    """Whatever the colour, no alert is lost by saying a second amount."""
    amounts = sorted(set(AMOUNTS.values()) - {"none"})
    for one, other in combinations(amounts, 2):
        both = raised(f"discharge {colour} {one} {other}", entries)
        for alone in (one, other):
            single = raised(f"discharge {colour} {alone}", entries)
            assert covers(both, single), (colour, one, other)


@pytest.mark.parametrize("entries", [BEFORE, AFTER], ids=["before the first pup", "after it"])
@pytest.mark.parametrize("amount", ["", "streak", "heavy", "clots"])
def test_two_colours_raise_what_either_raises_or_are_asked_about(
    amount: str, entries: tuple[Entry, ...]
) -> None:
    """A colour is passed over unasked only when the other raises all that it would raise."""
    colours = sorted(set(COLOURS.values()) - {"unknown"})  # beside a colour it says nothing
    for one, other in combinations(colours, 2):
        line = f"discharge {one} and {other} {amount}"
        both = raised(line, entries)
        single = [raised(f"discharge {alone} {amount}", entries) for alone in (one, other)]
        assert any(covers(both, alone) for alone in single), line
        if not read_line(line, box(entries)).doubts:
            assert all(covers(both, alone) for alone in single), line


def test_the_question_about_two_colours_says_where_the_other_goes() -> None:
    """Green is asked about beside blood, and its own line ends nothing of the first."""
    (doubt,) = read_line("discharge green and red", box()).doubts
    assert doubt.code == "two-colours"
    assert doubt.sentence.endswith("Take it as red?")
    assert doubt.fix.endswith("discharge green")
    assert what("discharge green and red") == Discharge(colour="red")
    assert what("discharge green and red", box(BEFORE)) == Discharge(colour="green")
    (doubt,) = read_line("discharge red pus", box()).doubts
    assert doubt.fix.endswith("discharge pus; also red")


def test_none_beside_an_amount_is_refused() -> None:
    """Nobody can tell whether it has stopped, and the hint keeps what was seen."""
    with pytest.raises(NotUnderstood, match="there is none, and that there is") as refused:
        read_line("discharge red heavy none", box())
    assert refused.value.nearest == "discharge red heavy"


def test_limp_and_dead_in_one_line_is_asked_about() -> None:
    """A limp pup may still be helped, so the clock of a limp one is offered."""
    assert codes("pup dead limp") == ["two-states"]
    assert what("pup dead limp") == Birth(pup=2, state="limp")


@pytest.mark.parametrize("colour", sorted(set(COLOURS.values()) - {"unknown"}))
@pytest.mark.parametrize("line", ["discharge {} wibble", "discharge very {}", "lochia {} 3",
                                  "smelly {} fluid wibble"])  # fmt: skip
def test_a_hint_names_no_other_colour_than_the_one_typed(line: str, colour: str) -> None:
    """What is offered instead of a refused line keeps its colour."""
    with pytest.raises(NotUnderstood) as refused:
        read_line(line.format(colour), box())
    hinted = {COLOURS[word.strip(";")] for word in refused.value.nearest.split()
              if word.strip(";") in COLOURS}  # fmt: skip
    assert hinted == {colour}


def test_a_hint_can_be_typed_as_it_stands() -> None:
    """A line put right by its hint is read, with the words nobody knew kept as a note."""
    with pytest.raises(NotUnderstood) as refused:
        read_line("discharge red wibble heavy", box())
    draft = read_line(refused.value.nearest, box()).draft
    assert draft.what == Discharge(colour="red", amount="heavy")
    assert draft.note == "wibble"
