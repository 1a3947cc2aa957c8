"""The clocks before labour. Catalogue: "Before labour"; what it leaves open is marked "page"."""

from judge.clocks import Chapter, Clock

_TERMS = """
    push := strong or weak
    further := waters or sac or push or part or birth or caesarean or finished
    never_further := historically(not further)
    # From the first sign until waters, contraction, birth or settled.
    first_stage := never_further and ((not settled) since sign)
    no_labour := never_further and not ((not settled) since sign)
    # A low reading is confirmed by a second one within two hours, or by being very low; the
    # clock counts from the first of the two, so it runs while a reading may be confirmed yet.
    low_now := low and no_labour
    confirmed := low_now and (surely_low or (once[{tick}:{confirm.late}](low_now)))
    drop := once(confirmed)
    since_low := drop or (once[0:{confirm.late}](low_now))
    # Back to normal after a drop, until the next low one or anything that shows labour.
    normal_again := (not (low or sign or further)) since (back and drop and no_labour)
"""

BEFORE_LABOUR = Chapter(
    {"confirm": ("temperature-drop-no-labour", "confirm-within")},
    _TERMS,
    (
        # From the first sign until labour goes further, or settled.
        Clock("first-stage-long", "main", "first_stage"),
        # From the first low reading of a drop, while there is no labour.
        Clock("temperature-drop-no-labour", "main", "since_low", shows="drop and no_labour"),
        # From the first reading that is normal again.
        Clock("temperature-back-no-labour", "main", "normal_again"),
    ),
)  # fmt: skip
