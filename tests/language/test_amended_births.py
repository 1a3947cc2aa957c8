"""A birth told again in a correction, by the number of its own pup, is a birth and no mark."""

from datetime import timedelta

import pytest

from boxlamp.language import Context, read_line, say
from boxlamp.model.entry import Draft
from boxlamp.model.happenings import Amend, Birth
from support.happenings import NOW

BORN = Draft(at=NOW, what=Birth(pup=2, sex="dog")).numbered(1, "ash", NOW)
CONTEXT = Context.of([BORN], NOW + timedelta(minutes=3))


@pytest.mark.parametrize("sex", ["dog", None])
@pytest.mark.parametrize(
    ("words", "changes"),
    [
        ("pup 2 mark Luna limp", {"mark": "Luna", "state": "limp"}),
        ("pup #2 called Luna dead", {"mark": "Luna", "state": "dead"}),
        ("pup 2 dead", {"state": "dead"}),
        ("pup 2 limp feet first", {"state": "limp", "presentation": "feet"}),
        ("pup 2 breathing", {"state": "alive"}),
        ("pup 2 is limp", {"state": "limp"}),
        ("limp 2", {"state": "limp"}),
        ("mark 2 red collar", {"mark": "red collar"}),
        ("mark 2 blue", {"mark": "blue"}),
        ("pup 2 mark blue dead breech", {"mark": "blue", "state": "dead", "presentation": "rump"}),
    ],
)
def test_a_birth_is_told_again(words: str, changes: dict[str, object], sex: str | None) -> None:
    """What it says counts, and the rest stays; said again, it reads back."""
    before = Birth.model_validate({"pup": 2, "sex": sex})
    what = Amend(target=1, what=before.model_copy(update=changes))
    born = BORN.model_copy(update={"what": before})
    context = Context.of([born], NOW + timedelta(minutes=3))

    assert read_line(f"amend 1 {words}", context).draft.what == what
    assert read_line(say(what), context).draft.what == what


@pytest.mark.parametrize(
    ("line", "doubts"),
    [
        ("pup 2 mark Luna limp", ["mark"]),
        ("mark 2 Luna not breathing", ["mark"]),
        ("mark 2 gasping", ["mark"]),
        ("mark 2 Luna", []),
        ("mark 2 red pale collar", []),
    ],
)
def test_a_sign_in_a_mark_is_asked_about(line: str, doubts: list[str]) -> None:
    """A word that would start a clock is not swallowed by the mark of a pup without a question."""
    heard = read_line(line, CONTEXT)

    assert [doubt.code for doubt in heard.doubts] == doubts
    assert all("state 2" in doubt.fix for doubt in heard.doubts)
