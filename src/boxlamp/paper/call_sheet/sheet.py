"""The call sheet: what to say to the vet on the telephone, in the order in which it is asked.

The order is SBAR, an open standard for handing over a patient: the situation, its background,
the assessment, what is asked for. Everything is told so that it can be read aloud. It is made
of a verdict alone, quickly enough to be made anew every second.
"""

from boxlamp.engine import Verdict
from boxlamp.paper.call_sheet.assessment import assessment
from boxlamp.paper.call_sheet.background import background
from boxlamp.paper.call_sheet.dial import dial
from boxlamp.paper.call_sheet.facts import CallSheet, Fact, Known
from boxlamp.paper.call_sheet.request import breathless, request
from boxlamp.paper.call_sheet.situation import situation
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.reader import Reader
from boxlamp.view.words import CAUTION


def call_sheet(verdict: Verdict, reader: Reader) -> CallSheet:
    """What to say of this moment on the telephone, in the reader's clock and units."""
    whole = Teller(verdict, reader)
    brief = whole._replace(brief=True)
    known, *fewer = (_told(teller) for teller in (whole, brief, brief._replace(bare=True)))
    return CallSheet(
        at=verdict.at,
        level=verdict.worst,
        facts=tuple(map(_either, known.facts, *(one.facts for one in fewer))),
        unknown=known.unknown,
        caution=CAUTION,
        hands_full=any(map(breathless, verdict.alerts)),
    )


def _told(teller: Teller) -> Known:
    """Every fact of the sheet as this teller tells it, and what nobody has written down."""
    if not teller.verdict.story.entries:
        now = teller.reader.moment(teller.verdict.at)
        nothing = Fact("situation", "who", f"{now}. Nothing was written down of her by then.")
        return Known((dial(teller), nothing, *request(teller)))
    behind, found = background(teller), assessment(teller)
    facts = (
        dial(teller), *situation(teller), *behind.facts, *found.facts, *request(teller)
    )  # fmt: skip
    return Known(facts, (*found.unknown, *behind.unknown))


def _either(whole: Fact, *fewer: Fact) -> Fact:
    """A fact in people's whole words, with its other tellings for when there is no room."""
    if all(one == whole for one in fewer):
        return whole
    tellings = {words for one in (whole, *fewer) for words in (one.words, *one.shorter)}
    shorter = sorted(tellings - {whole.words}, key=lambda words: (-len(words), words))
    return whole._replace(shorter=tuple(shorter))
