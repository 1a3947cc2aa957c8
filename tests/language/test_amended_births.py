"""A birth told again in a correction, by the number of its own pup, is a birth and no mark."""

from datetime import timedelta

import pytest

from boxlamp.language import Context, NotUnderstood, read_line, say
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


@pytest.mark.parametrize(
    ("words", "nearest"),
    [
        ("been pushing for an hour", "amend 1 an hour ago contraction"),
        ("weigh", "amend 1 weigh N ...g"),
        ("temp 300", "amend 1 temp ..."),
        ("pup boy 300 at 2", "amend 1 2:00 pup boy 300"),
        ("head stuck for 20 min", "amend 1 part head"),
        ("rubbish", "amend 1 HH:MM"),
    ],
)
def test_what_is_offered_for_a_correction_corrects_the_same_entry(words: str, nearest: str) -> None:
    """Copied as it stands it must not be one entry more."""
    with pytest.raises(NotUnderstood) as answer:
        read_line(f"amend 1 {words}", CONTEXT)
    assert answer.value.nearest == nearest
