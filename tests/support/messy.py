"""Nights as people really type them: late, ahead of time, corrected, struck."""

from datetime import timedelta

from hypothesis import strategies as st

from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Amend, Strike
from support.made import STREAMS

_DELAYS = st.sampled_from((0, 0, 0, 0, 60, 300, 1200, 3600, -120))


@st.composite
def _messy(draw: st.DrawFn) -> tuple[Entry, ...]:
    """A random night with some lines typed late or ahead, in the order of their typing."""
    entries: list[Entry] = []
    typed = None
    for one in draw(STREAMS):
        recorded = one.at + timedelta(seconds=draw(_DELAYS))
        typed = recorded if typed is None else max(typed, recorded)
        entries.append(one.model_copy(update={"id": len(entries) + 1, "recorded": typed}))
        if draw(st.integers(0, 3)) == 0:
            typed += timedelta(seconds=draw(st.sampled_from((0, 1, 90, 900))))
            entries.append(draw(_correction(entries, typed)))
    return tuple(entries)


def _correction(entries: list[Entry], typed: object) -> st.SearchStrategy[Entry]:
    return st.tuples(
        st.sampled_from(entries), st.booleans(), st.sampled_from((-600, -60, 0, 60))
    ).map(
        lambda chosen: chosen[0].model_copy(
            update={
                "id": len(entries) + 1,
                "recorded": typed,
                "at": chosen[0].at + timedelta(seconds=chosen[2]) if chosen[1] else typed,
                "what": Amend(target=chosen[0].id, retimed=True)
                if chosen[1]
                else Strike(target=chosen[0].id, why="wrong"),
            }
        )
    )


MESSY = _messy()
"""Random nights with lines typed late, typed ahead, amended and struck."""


@st.composite
def _set_back(draw: st.DrawFn) -> tuple[Entry, ...]:
    """The same on a computer whose clock was set back, once, while somebody typed."""
    entries = draw(MESSY)
    place = draw(st.integers(0, len(entries)))
    by = timedelta(seconds=draw(st.sampled_from((60, 600, 3600))))
    return (
        *entries[:place],
        *(one.model_copy(update={"recorded": one.recorded - by}) for one in entries[place:]),
    )


SET_BACK = _set_back()
"""Messy nights in which what was typed later carries the earlier time of typing."""
