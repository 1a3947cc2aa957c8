"""Documents for every form: a believable summary, hard corners, and strategies that draw any."""

from collections.abc import Iterator

from hypothesis import strategies as st

from boxlamp.paper.document import (
    Bar,
    BarChart,
    Block,
    Cell,
    Column,
    Curve,
    CurveChart,
    Document,
    Facts,
    Points,
    Role,
    Section,
    Table,
    Words,
)

ROLES: tuple[Role, ...] = (
    "", "strong", "dim", "struck", "caution", "watch", "call", "go", "good",
)  # fmt: skip

HOSTILE = (
    "<script>alert(1)</script>",
    "</td></table></style><style>*{display:none}",
    "<!-- <b>bold</b> -->",
    '"><img src=x onerror=alert(1)>',
    "&amp; &lt;b&gt; &#x41; &nbsp",
    "=cmd|' /C calc'!A0",
    "@SUM(1+1)*cmd|' /C calc'!A0",
    "{{ 7*7 }} {% raw %}",
    "![x](http://127.0.0.1/x.png) [y](javascript:alert(1))",
    "http://127.0.0.1/a <http://127.0.0.1/b> www.example.org me@example.org",
    "| a | b |",
    "*a* _b_ **c** __d__ ~~e~~ `f` ``g`` \\h \\",
    "# one",
    "1. two",
    "2) two",
    "- three",
    "+ four",
    "> five",
    "---",
    "===",
    "```",
    "~~~",
    ":-- | --:",
    "    indented",
    "tab\there",
    "line\nbreak\r\nand\u2028more\u2029still",
    "right \u202eto left\u202c again",
    "\u2066isolate\u2069 \u200bzero\u200dwidth\ufeff",
    "\x1b[31mred\x1b[0m \x1b]0;title\x07",
    "nul \x00 bell \x07 del \x7f csi \x9b31m",
    "lone \ud800 half \udfff",
    "\ufffe \uffff \U0010ffff \ue000",
    "emoji 🐶 👩‍🍼 🇨🇿 ✅",
    "שוקו הכלבה",
    "كلبة سوداء 312",
    "漢字かな交じり",
    "e\u0301 Z\u0351\u036b\u0343",
    "Dvořák Ļ ŵ ß İ",
    "x" * 500,
    "<" * 60,
    "|" * 60,
    "   ",
    "",
)
"""Words that people may type and that a form must carry without harm."""

TALL = Cell(" ".join(f"word{number}" for number in range(900)))
"""A cell that is taller than a page in any column."""


def texts(*, least: int = 0) -> st.SearchStrategy[str]:
    """Any words a person may type: plain, foreign, or meant to break the form."""
    plain = st.text("abc XYZ 019.,:;-'()/°é", min_size=least, max_size=40)
    odd = st.text(st.characters(), min_size=least, max_size=40)
    hostile = st.sampled_from([text for text in HOSTILE if len(text) >= least])
    joined = st.lists(hostile, min_size=2, max_size=3).map(" ".join)
    return plain | odd | hostile | joined


def cells() -> st.SearchStrategy[Cell]:
    """A cell with any text and any role."""
    return st.builds(Cell, texts(), st.sampled_from(ROLES))


@st.composite
def tables(draw: st.DrawFn) -> Table:
    """A table of one to fourteen columns and none to twelve rows."""
    shares = st.floats(0.2, 6)
    column = st.builds(Column, texts(least=1), shares, st.sampled_from(("left", "right")))
    columns = tuple(draw(st.lists(column, min_size=1, max_size=14)))
    row = st.tuples(*(cells() for _ in columns))
    rows = tuple(draw(st.lists(row, max_size=12)))
    return Table(columns, rows, draw(texts(least=1)), draw(st.booleans()))


def facts() -> st.SearchStrategy[Facts]:
    """Labels and what is known."""
    rows = st.lists(st.tuples(texts(least=1), texts()), max_size=8)
    return st.builds(Facts, rows.map(tuple))


def bar_charts() -> st.SearchStrategy[BarChart]:
    """Bars with limits; there may be none of either."""
    value = st.floats(0, 10_000)
    bar = st.builds(Bar, texts(), value, texts(), st.sampled_from(ROLES))
    limits = st.lists(st.tuples(value, texts(least=1)), max_size=3).map(tuple)
    bars = st.lists(bar, max_size=13).map(tuple)
    return st.builds(BarChart, texts(least=1), st.sampled_from(("min", "g", "°C")), bars, limits)


def curve_charts() -> st.SearchStrategy[CurveChart]:
    """Curves in order of x, with levels; there may be none of either, and points may be alike."""
    point = st.tuples(st.floats(0, 70), st.floats(0, 10_000))
    points = st.lists(point, max_size=20).map(lambda found: tuple(sorted(found)))
    sign = st.sampled_from("123456789ABCDEFG")
    curves = st.lists(st.builds(Curve, texts(), sign, points), max_size=13).map(tuple)
    levels = st.lists(st.tuples(st.floats(0, 10_000), texts(least=1)), max_size=3).map(tuple)
    return st.builds(CurveChart, texts(least=1), texts(), texts(), curves, levels)


def blocks() -> st.SearchStrategy[Block]:
    """Any block."""
    words = st.builds(Words, texts(), st.sampled_from(ROLES))
    points = st.builds(Points, st.lists(cells(), max_size=6).map(tuple))
    return facts() | tables() | words | points | bar_charts() | curve_charts()


def documents() -> st.SearchStrategy[Document]:
    """Any document of up to three sections."""
    several = st.lists(blocks(), max_size=4).map(tuple)
    section = st.builds(Section, texts(least=1), several, st.booleans())
    sections = st.lists(section, max_size=3).map(tuple)
    language = st.sampled_from(("en", "en-GB"))
    return st.builds(Document, texts(least=1), texts(), sections, texts(), language)


def facts_in(document: Document) -> Iterator[tuple[str, str]]:
    """Every label with what is known, in the order of the document."""
    for block in blocks_in(document):
        if isinstance(block, Facts):
            yield from block.rows


def tables_in(document: Document) -> list[Table]:
    """Every table, in the order of the document."""
    return [block for block in blocks_in(document) if isinstance(block, Table)]


def blocks_in(document: Document) -> Iterator[Block]:
    """Every block, in the order of the document."""
    for section in document.sections:
        yield from section.blocks


# --- a summary as it may really be -------------------------------------------------------------

_PUP_COLUMNS = (
    Column("Order", 0.5, "right"),
    Column("Born"),
    Column("After the one before"),
    Column("Sex", 0.7),
    Column("Birth weight", 1, "right"),
    Column("Presentation"),
    Column("State"),
    Column("Mark", 0.8),
    Column("Viability"),
    Column("Afterbirth"),
    Column("First milk"),
)

_PUPS = (
    "1|00:42|first|bitch|318 g|head first|well|red|9 of 10|00:51, eaten|01:10",
    "2|01:20|38 min|dog|342 g|tail first|well|blue|8 of 10|01:31, seen|01:45",
    "3|about 01:55|about 35 min|dog|305 g|head first|well|green|not taken|02:04, eaten|02:20",
    "4|03:31|1 h 36 min|bitch|288 g|head first|weak, then well|yellow|6 of 10|03:40, seen|04:15",
    "5|04:02|31 min|bitch|296 g|tail first|dead at birth|none|not taken|not seen|-",
    "6|04:40|38 min|dog|330 g|head first|well|white|7 of 8, 4 items taken|owed|05:02",
)

_ALERTS: tuple[tuple[Role, str], ...] = (
    ("watch", "! watch|Strong contractions and no pup|the dam|02:52|03:31: pup 4 born|nobody"),
    ("call", "!! call|Strong contractions and no pup|the dam|02:57|03:31: pup 4 born|03:01"),
    ("go", "!!! go|Limp pup not breathing after one minute|pup 5|04:03|04:20: pup 5 died|04:03"),
    ("watch", "! watch|No first milk within the hour|pup 4|04:31|stands|nobody"),
)

_TIMELINE = """
Sat 28 Feb 19:05|37.4 °C|temp 37.4
Sat 28 Feb 22:00|37.1 °C|temp 37.1
Sun 1 Mar 07:10|36.6 °C: below 37.2 °C|temp 36.6
Sun 1 Mar 12:30|First-stage signs: restless, nesting|sign restless nesting
Sun 1 Mar 18:00|First-stage signs: panting, shivering, off her food|sign panting shivering off-food
Sun 1 Mar 21:40|Vet rung: "all as it should be, ring again at one"|vet called all as it should be
Sun 1 Mar 23:52|Waters broke: clear|waters clear
Mon 2 Mar 00:08|Strong contraction|c strong
Mon 2 Mar 00:21|Strong contraction|c
Mon 2 Mar 00:35|Sac at the vulva|sac
Mon 2 Mar 00:42|Pup 1 born: bitch, 318 g, head first, marked red|pup f 318 red head first
Mon 2 Mar 00:43|Pup 1 breathing|breathing 1
Mon 2 Mar 00:44|Cord of pup 1 tied|cord 1
Mon 2 Mar 00:51|Afterbirth of pup 1, eaten|ab of 1 eaten
Mon 2 Mar 01:10|Pup 1 had first milk|milk 1
Mon 2 Mar 01:14|Strong contraction|c
Mon 2 Mar 01:20|Pup 2 born: dog, 342 g, tail first, marked blue|pup m 342 blue tail first
Mon 2 Mar 01:31|Afterbirth of pup 2|ab of 2
Mon 2 Mar 01:33|Rest|rest
Mon 2 Mar 01:45|Pup 2 had first milk|milk 2
Mon 2 Mar about 01:55|Pup 3 born: dog, 305 g, head first, marked green|~01:55 pup m 305 green
Mon 2 Mar 02:04|Afterbirth of pup 3, eaten|ab eaten
Mon 2 Mar 02:10|Rest. She slept, the three of them along her belly, and growled at the cat|rest
Mon 2 Mar 02:20|Pup 3 had first milk|milk 3
Mon 2 Mar 02:37|Strong contraction|c strong
Mon 2 Mar 02:44|Strong contraction|c
Mon 2 Mar 02:52|Strong contraction|c
Mon 2 Mar 03:01|Seen: strong contractions and no pup|ack
Mon 2 Mar 03:02|Vet rung: "walk her round the garden, ring at half past"|vet called walk her round
Mon 2 Mar 03:18|Green discharge, some|discharge green
Mon 2 Mar 03:31|Pup 4 born: bitch, 288 g, head first, limp, marked yellow|pup f 288 yellow limp
Mon 2 Mar 03:34|Pup 4 breathing|breathing 4
Mon 2 Mar 03:40|Afterbirth of pup 4|ab of 4
Mon 2 Mar 04:02|Pup 5 born: bitch, 296 g, tail first, limp|pup f 296 limp tail first
Mon 2 Mar 04:10|Calcium given by the vet over the telephone|given calcium by vet
Mon 2 Mar 04:15|Pup 4 had first milk|milk 4
Mon 2 Mar 04:20|Pup 5 died: never breathed|died 5 never breathed
Mon 2 Mar 04:40|Pup 6 born: dog, 330 g, head first, marked white|pup m 330 white
Mon 2 Mar 05:02|Pup 6 had first milk|milk 6
Mon 2 Mar 05:20|The dam: ate, drank|dam ate drank
"""

_GAINS = (1.0, 0.98, 1.04, 1.12, 1.19, 1.31, 1.4, 1.52)


def rows_of(lines: str, role: Role = "") -> tuple[tuple[Cell, ...], ...]:
    """Rows from lines of cells parted by ``|``, all set alike."""
    return tuple(
        tuple(Cell(text, role) for text in line.split("|")) for line in lines.strip().splitlines()
    )


def _front() -> Section:
    return Section(
        "At a glance",
        (
            Words("Whelping goes on. As known at Mon 2 Mar 2026 05:30 (Europe/Prague).", "strong"),
            Facts((
                ("Dam", "Bramble, Beagle, 3 years, 12.4 kg, first litter"),
                ("Vet", "Dr Hana Malá, 222 333 444; at night 777 888 999; 25 minutes away"),
                ("Expected", "6 pups, by x-ray"),
                ("Born", "6: 5 alive, 1 dead"),
                ("Afterbirths", "4 passed; pup 6 still owed; pup 5 looked for and not seen"),
                ("Due", "Sun 1 Mar 2026 (28 Feb-3 Mar), counted from the LH peak"),
                ("Earlier caesarean", "not known"),
            )),
            Points((
                Cell("!! call: one afterbirth is still owed. Look again by 06:40.", "call"),
                Cell("! watch: pup 4 is weak; weigh again at 08:00.", "watch"),
                Cell("Five pups have had first milk.", "good"),
            )),
        ),
    )  # fmt: skip


def _pups() -> Section:
    struck = tuple(cell._replace(role="dim") for cell in rows_of(_PUPS[4])[0])
    rows = (*rows_of("\n".join(_PUPS[:4])), struck, *rows_of(_PUPS[5]))
    bars = (
        Bar("to pup 2", 38.0, "38 min"),
        Bar("to pup 3", 35.0, "about 35 min"),
        Bar("to pup 4", 96.0, "1 h 36 min", "watch"),
        Bar("to pup 5", 31.0, "31 min"),
        Bar("to pup 6", 38.0, "38 min"),
    )
    limits = ((60.0, "watch: 1 h"), (120.0, "call: 2 h"))
    return Section(
        "The pups",
        (Table(_PUP_COLUMNS, rows), BarChart("Time between births", "min", bars, limits)),
    )


def _stages() -> Section:
    columns = (Column("Stage"), Column("From", 2), Column("To", 2), Column("Length", 1, "right"))
    rows = rows_of(
        "Stage 1: opening|Sun 1 Mar 12:30, restless|Sun 1 Mar 23:52, waters broke|11 h 22 min\n"
        "Stage 2: the pups come|Sun 1 Mar 23:52|Mon 2 Mar 04:40, pup 6|4 h 48 min\n"
        "Stage 3: afterbirths|Mon 2 Mar 00:51|goes on|so far 4 h 39 min"
    )
    return Section("The stages of labour", (Table(columns, rows),))


def _alerts() -> Section:
    columns = (
        Column("Level"), Column("What", 3), Column("Of whom"), Column("Raised"),
        Column("Ended", 2), Column("Taken notice of"),
    )  # fmt: skip
    rows = tuple(rows_of(line, role)[0] for role, line in _ALERTS)
    return Section("Alerts", (Table(columns, rows),))


def _timeline() -> Section:
    columns = (Column("When", 1.4), Column("What was written down", 3.5), Column("As typed", 2))
    rows = list(rows_of(_TIMELINE))
    rows.insert(20, rows_of("Mon 2 Mar 01:50|Pup 9 born: dog|01:50 pup 9", "struck")[0])
    rows.insert(
        21, rows_of("Mon 2 Mar 01:58|Line above withdrawn: typed twice|strike 21 typed twice")[0]
    )
    return Section(
        "Everything that was written down", (Table(columns, tuple(rows)),), new_page=True
    )


def _weights() -> Section:
    births = {"1 red": 318, "2 blue": 342, "3 green": 305, "4 yellow": 288, "6 white": 330}
    curves = tuple(
        Curve(name, name[0], tuple((day + at / 7, grams * gain * (1 - at / 60))
                                   for day, gain in enumerate(_GAINS)))
        for at, (name, grams) in enumerate(births.items())
    )  # fmt: skip
    return Section(
        "Weights",
        (
            CurveChart("Weights since birth", "days", "g", curves, ((300.0, "300 g"),)),
            Table((Column("Pup"), Column("Weighed")), (), "Nobody has been weighed since."),
        ),
    )


def _closing() -> Section:
    return Section(
        "What this paper is",
        (
            Words("A memory aid, not a diagnosis. When in doubt, ring the vet.", "caution"),
            Words("Kept by Boxlamp; 44 entries.", "dim"),
        ),
    )


SAMPLE = Document(
    "Whelping summary: Bramble",
    "Litter bramble-2026, Mon 2 Mar 2026 05:30",
    (_front(), _pups(), _stages(), _alerts(), _weights(), _timeline(), _closing()),
    "Bramble, litter bramble-2026. A memory aid, not a diagnosis: the vet's word comes first.",
)
"""A night of six pups as a vet may get it."""

_MANY = tuple(Column(f"Column {number}") for number in range(1, 15))
_WIDE_ROWS = tuple(
    tuple(Cell(f"row{row} cell{cell} said") for cell in range(1, 15)) for row in range(1, 31)
)

WIDE = Document(
    "Fourteen columns",
    "Thirty rows of fourteen cells",
    (Section("Wide", (Table(_MANY, _WIDE_ROWS),)), Section("Tall", (Table(
        (Column("Number", 0.3, "right"), Column("Long", 2), Column("Longer", 2)),
        ((Cell("1"), Cell("short"), TALL), (Cell("2"), Cell("after it"), Cell("the end"))),
    ),))),
    "The foot",
)  # fmt: skip
"""More columns than a page likes, and a row that is taller than a page."""

EMPTY = Document(
    "Nothing yet",
    "",
    (
        Section("Nobody", (
            Facts(()),
            Table((Column("Pup"), Column("Born")), (), "No pup has been written down."),
            Points(()),
            BarChart("Time between births", "min", ()),
            CurveChart("Weights", "days", "g", ()),
        )),
        Section("Not a block", ()),
    ),
    "The foot",
)  # fmt: skip
"""Every block without anything in it."""

BLANK = Document(
    "A sheet for a pen",
    "",
    (Section("Log", (Table(
        (Column("Time"), Column("What you saw", 4), Column("Who")),
        tuple((Cell(""), Cell(""), Cell("")) for _ in range(12)), ruled=True,
    ),)),),
    "The foot",
)  # fmt: skip
"""A ruled table with nothing in its cells."""

ATTACK = Document(
    HOSTILE[0],
    HOSTILE[1],
    tuple(
        Section(text or "empty", (
            Facts(((text or "empty", text),)),
            Table((Column(text or "empty"), Column("Role")),
                  tuple((Cell(text, role), Cell(role)) for role in ROLES), text),
            Table((Column("Nothing"),), (), text),
            Points((Cell(text), Cell(text, "go"))),
            Words(text, "caution"),
            BarChart(text, "min", (Bar(text, 3.0, text),), ((2.0, text),)),
            CurveChart(text, text, text, (Curve(text, "1", ((0.0, 1.0), (2.0, 3.0))),),
                       ((2.0, text),)),
        ))
        for text in HOSTILE
    ),
    HOSTILE[3],
)  # fmt: skip
"""Every hostile text in every place of a document."""

HAND_MADE = {"sample": SAMPLE, "wide": WIDE, "empty": EMPTY, "blank": BLANK, "attack": ATTACK}
