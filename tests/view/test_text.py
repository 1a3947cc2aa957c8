import json
import unicodedata
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boxlamp.view.text import REPLACEMENT, clean, clock_text, escaped, fit, width_of, wrap

WIDE = st.sampled_from(["\u72ac", "\u5b50\u72ac", "\U0001f415", "e\u0301", "\u200d", "\u0301",
                        "\u2764\ufe0f", "\uac00", " ", "\t"])  # fmt: skip
WORDS = st.text(max_size=60) | st.lists(st.text(max_size=8) | WIDE, max_size=20).map("".join)
SAFE = WORDS.map(clean)
PRAGUE = ZoneInfo("Europe/Prague")


@given(WORDS)
def test_clean_text_cannot_move_a_cursor_or_turn_a_line(text: str) -> None:
    """No control, format, private or unassigned character and no line break gets through."""
    cleaned = clean(text)

    dropped = len(text) - len(cleaned)
    assert 0 <= dropped <= text.count("\u200d")
    for char in cleaned:
        assert unicodedata.category(char) not in {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
    assert clean(cleaned) == cleaned


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("\x1b[2J", f"{REPLACEMENT}[2J"),
        ("a\nb\tc\r", "a b c "),
        ("\u202egnp.exe", f"{REPLACEMENT}gnp.exe"),
        ("\u2066\u200f\ufeff", REPLACEMENT * 3),
        ("\x9b31m\x07\x7f\x00", f"{REPLACEMENT}31m{REPLACEMENT * 3}"),
        ("\u2028\u2029", REPLACEMENT * 2),
        ("\U0001f415\u200d\U0001f9ba", "\U0001f415\U0001f9ba"),
        ("\U0001f3f3\ufe0f\u200d\U0001f308", "\U0001f3f3\ufe0f\U0001f308"),
        ("\u200d\U0001f415\u200d", f"{REPLACEMENT}\U0001f415{REPLACEMENT}"),
        ("a\u200db", f"a{REPLACEMENT}b"),
        ("\u017elut\u00e1 [red] 37.1 \u00b0C", "\u017elut\u00e1 [red] 37.1 \u00b0C"),
    ],
)
def test_what_clean_shows(text: str, shown: str) -> None:
    """Dangerous signs are replaced visibly; everything else stays."""
    assert clean(text) == shown


@given(WORDS | st.sampled_from(["\x7f", "\x9b2J", "\u202egnp", "\U000e0041", "\ue000\u2028"]))
def test_escaped_json_acts_on_nothing_and_reads_back(text: str) -> None:
    """A terminal obeys more than JSON itself escapes; a reader still gets every character."""
    written = escaped(json.dumps(text, ensure_ascii=False))

    assert clean(written) == written
    assert json.loads(written) == text


@given(SAFE, st.integers(-3, 50))
def test_fit_takes_exactly_its_cells(text: str, cells: int) -> None:
    """Cut or padded, wide characters included; a text that fits is not changed."""
    fitted = fit(text, cells)

    assert width_of(fitted) == max(0, cells)
    if width_of(text) <= cells:
        assert fitted.rstrip(" ") == text.rstrip(" ")
    elif cells > 0:
        assert "~" in fitted


@given(SAFE, st.integers(2, 50))
def test_wrap_never_exceeds_and_never_drops(text: str, cells: int) -> None:
    """Every line is within its cells and every letter is still there, in order."""
    lines = wrap(text, cells)

    assert lines
    assert all(width_of(line) <= cells for line in lines)
    assert "".join("".join(lines).split()) == "".join(text.split())


def test_wrap_breaks_at_spaces() -> None:
    """Words stay whole as long as they fit."""
    assert wrap("ring the vet now", 8) == ["ring the", "vet now"]
    assert wrap("", 8) == [""]
    assert wrap("abcdefghij kl", 4) == ["abcd", "efgh", "ij", "kl"]


NOW = datetime(2026, 3, 2, 1, 14, 5, tzinfo=UTC)


@pytest.mark.parametrize(
    ("back", "shown"),
    [
        (timedelta(0), "02:14"),
        (timedelta(hours=3), "yesterday 23:14"),
        (timedelta(hours=-22), "tomorrow 00:14"),
        (timedelta(hours=27), "Sat 28 Feb 23:14"),
        (timedelta(days=120), "Sun 2 Nov 2025 02:14"),
    ],
)
def test_a_time_is_read_off_the_wall(back: timedelta, shown: str) -> None:
    """Today's times stand alone; any other names its day."""
    assert clock_text(NOW - back, NOW, PRAGUE) == shown


def test_seconds_are_shown_when_asked() -> None:
    """The head of the board ticks."""
    assert clock_text(NOW, NOW, PRAGUE, seconds=True) == "02:14:05"
