import pytest

from boxlamp.language import say
from boxlamp.model.entry import Entry
from boxlamp.model.happenings import Afterbirth, Birth, Contraction, Expect, Sign, Temperature
from boxlamp.training.drill.lines import line_lines, mark_line
from boxlamp.training.drill.night import PastNight
from boxlamp.training.drill.points import Stop
from boxlamp.training.drill.scenes import can_be_typed, scene
from boxlamp.training.drill.sitting import Sitting
from support.drills import SHIPPED, night_of, shown
from support.made import at, told
from support.nights import DEFAULT

BIRTH = Birth.model_validate(
    {"pup": 1, "sex": "bitch", "weight": "312", "presentation": "head", "in_sac": True}
)
NIGHT = PastNight(
    told(
        (0, Expect(count=4, method="xray")), (1, Contraction()), (14, BIRTH), (20, Afterbirth()),
        (30, Temperature.model_validate({"celsius": "38.5"})),
        (40, Sign(signs=("restless", "panting"))), (50, Contraction(strength="unspecified")),
    ),
    DEFAULT, at(60),
)  # fmt: skip


def entry(number: int) -> Entry:
    return next(one for one in NIGHT.entries if one.id == number)


def said(number: int, typed: str) -> str:
    return "\n".join(line_lines(mark_line(NIGHT, entry(number), typed)))


def right(number: int, typed: str) -> bool:
    return mark_line(NIGHT, entry(number), typed).right


@pytest.mark.parametrize("name", SHIPPED, ids=shown)
def test_the_lines_of_a_night_are_right_answers(name: str) -> None:
    """Every line that could be asked for is right when it is typed as the log says it."""
    night = night_of(name)
    asked = [one for one in night.entries if scene(one) is not None and can_be_typed(night, one)]

    assert asked
    assert all(mark_line(night, one, say(one.what)).right for one in asked)


def test_a_scene_is_told_in_plain_words() -> None:
    """What is seen, not how it is typed."""
    assert scene(entry(3)) == "A bitch pup of 312 g is born head first, still in its sac."
    assert scene(entry(4)) == "An afterbirth comes."
    assert scene(entry(5)) == "You take her temperature: 38.5 °C."
    assert scene(entry(6)) == "She is restless and panting."
    assert scene(entry(1)) is None


@pytest.mark.parametrize(
    ("number", "typed"),
    [
        (3, "pup bitch 312g head first in sac"), (3, "02:14 girl 312 head in sac"),
        (3, "born bitch alive 312g in sac head first"), (3, "pup bitch 11oz head first in sac"),
        (4, "placenta"), (4, "ab"), (5, "temp 38.5"), (5, "temp 101.3f"),
        (6, "sign panting restless"), (7, "push"), (7, "c strong"),
    ],
)  # fmt: skip
def test_other_words_for_the_same_are_right(number: int, typed: str) -> None:
    """Kind and facts count, not the words, their order or the unit."""
    assert right(number, typed), said(number, typed)


@pytest.mark.parametrize(
    ("number", "typed", "hint"),
    [
        (3, "pup bitch head first in sac", "It leaves out the weight."),
        (3, "pup bitch 312g head first", "It leaves out the sac."),
        (3, "pup dog 312g head first in sac", "It differs in the sex."),
        (3, "pup bitch 321g head first in sac", "It differs in the weight."),
        (3, "pup bitch 312g head first in sac limp", "It says something about how it is that"),
        (3, "push", "That is another thing than what happened."),
        (3, "02:02 pup bitch 312g head first in sac", "It happened at another time."),
        (5, "temp 38.9", "It differs in the value."),
        (7, "push weak", "It differs in the strength."),
    ],
)
def test_what_is_missing_or_wrong_is_named(number: int, typed: str, hint: str) -> None:
    """With what was understood, and the line of the night."""
    assert not right(number, typed)
    text = said(number, typed)
    assert hint in text
    assert text.startswith("Not quite. Understood as: ")
    assert "The night's own line: " in text


def test_one_more_try_is_given_with_a_hint() -> None:
    """What is wrong is named and the line itself is not; not knowing is no try."""
    sitting = Sitting(NIGHT, ())
    stop = Stop(at(14), "line", at(13), entry=3)
    said = " ".join(sitting.hint(stop, "pup bitch head first in sac"))

    assert "It leaves out the weight." in said
    assert "312" not in said
    assert "own line" not in said
    assert "The nearest that works" in " ".join(
        sitting.hint(Stop(at(20), "line", at(19), entry=4), "plazenta afterbrth placenta")
    )
    assert not sitting.hint(stop, "-")
    assert not sitting.hint(stop, "pup bitch 312g head first in sac")


def test_what_the_scene_does_not_say_may_be_added() -> None:
    """Which end came first, where it is not told; and a minute is no other time."""
    night = PastNight(told((0, Contraction()), (14, Birth(pup=1)), (20, Afterbirth())),
                      DEFAULT, at(20))  # fmt: skip
    birth = next(one for one in night.entries if one.what.kind == "birth")

    assert mark_line(night, birth, "pup head first").right
    assert mark_line(night, birth, "02:13 pup").right
    assert not mark_line(night, birth, "02:11 pup").right
    assert not mark_line(night, birth, "pup bitch").right


def test_a_line_that_is_not_understood_gets_the_nearest() -> None:
    """And is told that the log would have kept it."""
    text = " ".join(said(4, "plazenta afterbrth placenta").split())

    assert "Not understood." in text
    assert "The nearest that works: afterbirth" in text
    assert "kept as a note" in text


def test_not_knowing_shows_the_line() -> None:
    """A dash is no attempt."""
    assert said(4, "-") == "Not quite. The night's own line: afterbirth"


def test_nothing_typed_reaches_the_screen_raw() -> None:
    """Control codes in an answer are told back harmless."""
    assert "\x1b" not in said(4, "afterbirth \x1b[2J; \x1b]0;x\x07")
