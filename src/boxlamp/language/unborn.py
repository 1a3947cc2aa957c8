"""Asking about a line on a pup that was not born by the time the line speaks of."""

from datetime import datetime, timedelta

from boxlamp.language import sentences
from boxlamp.language.dead import SIGNS_OF_NEED
from boxlamp.language.ear import Ear
from boxlamp.language.moments import Moment, shown
from boxlamp.language.pups import named, spoken_of
from boxlamp.model.happenings import Birth, PupState, What
from boxlamp.model.litter import Pup

_SLACK = timedelta(minutes=5)
"""Our choice: a birth is often typed when the pup already breathes and the first steps are done."""


def born_by(pup: Pup, moment: datetime) -> bool:
    """Whether a pup was there; births are written to the second, the rest often to the minute."""
    return moment >= pup.birth.at.replace(second=0)


def question_the_unborn(what: What, moment: Moment, ear: Ear) -> None:
    """Ask when a pup was born later: it is another pup, or its birth is written down too late.

    A time that is only about right is not held against another, and one that is asked about
    already is enough. In a night file nobody can be asked, and a sign that must not wait for an
    answer is taken and answered.
    """
    if ear.amending is not None or ear.context.after is not None or isinstance(what, Birth):
        return
    for pup in spoken_of(what, ear.context.litter):
        birth = pup.birth
        sure = moment.certainty == birth.certainty == "seen" and not moment.doubts
        if not sure or born_by(pup, moment.at + _SLACK):
            continue
        born = shown(birth.at, birth.certainty, ear.context)
        then = shown(moment.at, moment.certainty, ear.context)
        if isinstance(what, PupState) and not SIGNS_OF_NEED.isdisjoint(what.signs):
            ear.remarks.append(sentences.BORN_LATER_SAID.format(named(pup), born))
        else:
            fix = sentences.BORN_LATER_FIX.format(birth.id, then)
            ear.doubt("unborn", sentences.BORN_LATER.format(named(pup), born), fix)
