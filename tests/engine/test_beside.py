"""Which clocks run at once, against the plainest reading of the same spells."""

from hypothesis import given
from hypothesis import strategies as st

from boxlamp.engine.beside import beside
from boxlamp.engine.standing import runs
from boxlamp.rules.spell import Spell
from support.made import at

MINUTES = st.integers(0, 20)
SPELLS = st.lists(st.tuples(st.sampled_from("abc"), MINUTES, st.none() | MINUTES), max_size=8)


@given(SPELLS, st.integers(-1, 25))
def test_what_runs_beside_a_spell_is_what_runs_then(
    drawn: list[tuple[str, int, int | None]], minute: int
) -> None:
    """At any moment, spells of no length and several of one clock among them."""
    spells = [
        Spell(
            *("slow", "dam", clock),
            since=at(start), start=at(start),
            end=None if length is None else at(start + length), opened=(1,),
        )
        for clock, start, length in drawn
    ]  # fmt: skip
    plainest = {spell.clock for spell in spells if runs(spell, at(minute))}
    assert beside(spells).at(at(minute)) == plainest
