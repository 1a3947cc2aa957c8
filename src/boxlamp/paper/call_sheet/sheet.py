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
from boxlamp.paper.call_sheet.request import request
from boxlamp.paper.call_sheet.situation import situation
from boxlamp.paper.call_sheet.teller import Teller
from boxlamp.paper.reader import Reader
from boxlamp.view.board import CAUTION


def call_sheet(verdict: Verdict, reader: Reader) -> CallSheet:
    """What to say of this moment on the telephone, in the reader's clock and units."""
    teller = Teller(verdict, reader)
    whole, brief = _told(teller), _told(teller._replace(brief=True))
    return CallSheet(
        at=verdict.at,
        level=verdict.worst,
        facts=tuple(map(_either, whole.facts, brief.facts)),
        unknown=whole.unknown,
        caution=CAUTION,
    )


def _told(teller: Teller) -> Known:
    """Every fact of the sheet, people's words whole or cut, and what nobody has written down."""
    if not teller.verdict.story.entries:
        now = teller.reader.moment(teller.verdict.at)
        nothing = Fact("situation", "who", f"{now}. Nothing was written down of her by then.")
        return Known((dial(teller), nothing, *request(teller)))
    behind, found = background(teller), assessment(teller)
    facts = (
        dial(teller), *situation(teller), *behind.facts, *found.facts, *request(teller)
    )  # fmt: skip
    return Known(facts, (*found.unknown, *behind.unknown))


def _either(whole: Fact, brief: Fact) -> Fact:
    """A fact in people's whole words, with the cut ones for when there is no room for them."""
    if whole == brief:
        return whole
    whole_still = [words for words in whole.shorter if words and words not in brief.shorter]
    return whole._replace(shorter=(*whole_still, brief.words, *brief.shorter))
