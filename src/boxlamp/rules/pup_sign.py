"""A sign of illness in a pup.

What it watches: each sign that `state` shows in a pup, with a clock of its own. Gasping, blue and
fits are a go at once. Limp, pale, bloated, hard breathing, milk at the nose, a cleft palate, a
red navel, dark tips, no anus, a sore anus and a swollen eye are a call at once. Weak, cold, loose
stools, no stool, no twitching in sleep, an open skull and splayed legs are watched, and most
become a call in time; crying and not suckling are watched once they go on. So is a call: loose
stools twice, two watched signs in one pup within hours, or signs in two pups within a day.

Several signs in one pup are one alert: it names them all, the gravest first, and what it asks for
is what the gravest asks for.

A sign stands until `well`, the pup's death or what ends it by nature: `breathing` for limp,
gasping and blue, `crying` for the first two; a feed or `milk` for crying and not suckling, though
a tube is no suckling; a temperature for cold. One that nobody writes of for a day stands no
longer. Crying stands for less, and counts beside a sign in another pup for the day as well. What
a pup was born with ends when a vet has advised. In its first hour a limp, gasping or blue pup
belongs to `not-breathing`, and crying, cold and not suckling are ordinary.

Why it matters: a sick pup shows little and has few reserves; most that die in their first month
showed signs for less than five days. What begins in one is often in the dam's milk or womb.

What to do: warm it, take its temperature, feed a little once it is warm, ring the vet.

Example:
    02:00 pup
    08:00 state 1 crying
    #= 08:15 watch pup-sign pup 1
    08:20 feed 1 3ml bottle
    #= 08:20 cleared pup-sign pup 1
    09:00 state 1 bloated
    #= 09:00 call pup-sign pup 1
    12:00 state 1 well
    #= 12:00 cleared pup-sign pup 1
"""

from collections.abc import Iterator

from boxlamp.model.happenings import Death, VetContact
from boxlamp.model.levels import Level
from boxlamp.model.story import Story
from boxlamp.rules.rule import Rule
from boxlamp.rules.sickness import signs_of
from boxlamp.rules.spell import Spell, Yardstick, span
from boxlamp.rules.together import bouts, pairs, several

ID = "pup-sign"
_ANSWERS = {"advised", "arrived", "seen"}
# A pup can be lost to these within minutes; to the others within hours or days. Our choice.
_MINUTES = frozenset({
    "limp", "gasping", "blue", "pale", "cold", "fits", "laboured-breathing", "two-signs",
})  # fmt: skip


def watch(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """Every sign of every pup; two in one pup; and signs in two pups."""
    spells = signs_of(story, yardstick, ID)
    yield from spells
    found = bouts(spells, yardstick, ID)
    yield from pairs(found, span(yardstick, ID, "two-signs-within"), ID)
    if len({bout.subject for bout in found}) > 1:
        yield from _in_the_litter(story, yardstick)


def _in_the_litter(story: Story, yardstick: Yardstick) -> Iterator[Spell]:
    """Signs in two pups within a day: there one that nobody took back counts the whole day."""
    within = span(yardstick, ID, "litter-within")
    found = bouts(signs_of(story, yardstick, ID, within), yardstick, ID)
    deaths = {entry.id for entry in story.of(Death)}
    vets = [one for one in story.of(VetContact) if getattr(one.what, "contact", "") in _ANSWERS]
    yield from several(found, within, ID, deaths, vets)


_SAYS = {
    "crying": "Crying {lasting}: {subject}{also}. Warm, fed, lying with the others?",
    "limp": "Limp {lasting}: {subject}{also}. Warm it and rub it.",
    "gasping": "Gasping {lasting}: {subject}{also}. Clear its mouth and nose.",
    "blue": "Blue {lasting}: {subject}{also}. Clear its mouth and nose, and rub it.",
    "pale": "Pale gums in {subject}, first seen {ago}{also}.",
    "cold": "Warm slowly, do not feed until 35.0 °C: {subject}, cold to the hand {lasting}{also}.",
    "bloated": "Swollen, tight belly in {subject}, first seen {ago}{also}.",
    "diarrhoea": "Loose stools in {subject}, first seen {ago}{also}.",
    "diarrhoea-again": "Loose stools again in {subject}{also}.",
    "not-suckling": "Not suckling {lasting}: {subject}{also}.",
    "cleft-palate": "Cleft palate in {subject}{also}. Do not let milk run into its mouth.",
    "navel": "Navel red, swollen or wet in {subject}, first seen {ago}{also}.",
    "fits": "Fits in {subject}, first seen {ago}{also}. Keep it warm.",
    "weak": "Weak {lasting}: {subject}{also}. Warm it, then see that it drinks.",
    "laboured-breathing": "Hard breathing {lasting}: {subject}{also}.",
    "milk-at-nose": "Stop feeding: milk at the nose of {subject}, first seen {ago}{also}.",
    "dark-tips": "Red or dark toes, tail or ears in {subject}, first seen {ago}{also}.",
    "no-anus": "No opening under the tail of {subject}{also}.",
    "no-stool": "No stool in {subject}, first written down {ago}{also}.",
    "sore-anus": "Red, swollen anus in {subject}, first seen {ago}{also}.",
    "open-fontanelle": "A soft, open place in the skull of {subject}{also}.",
    "sleeps-still": "No twitching in its sleep: {subject}, first seen {ago}{also}.",
    "swollen-eye": "Swelling or pus under the lids of {subject}, first seen {ago}{also}.",
    "splayed-legs": "Legs out sideways in {subject}{also}.",
    "two-signs": "Two signs at once in {subject}: {detail}{also}.",
    "litter": "Signs in {detail} within a day: ask the vet to see the dam and the whole litter.",
}

_GRAVEST_FIRST = {
    "gasping": "gasping",
    "blue": "blue",
    "limp": "limp",
    "fits": "having fits",
    "pale": "pale",
    "laboured-breathing": "breathing hard",
    "cold": "cold",
    "bloated": "bloated",
    "milk-at-nose": "milk at its nose",
    "dark-tips": "dark toes, tail or ears",
    "navel": "navel red or swollen",
    "no-anus": "no opening under its tail",
    "cleft-palate": "cleft palate",
    "swollen-eye": "swollen eye",
    "sore-anus": "sore anus",
    "two-signs": "",
    "weak": "weak",
    "diarrhoea-again": "diarrhoea",
    "diarrhoea": "diarrhoea",
    "not-suckling": "not suckling",
    "no-stool": "no stool",
    "crying": "crying",
    "sleeps-still": "sleeps still",
    "open-fontanelle": "an open place in its skull",
    "splayed-legs": "splayed legs",
}
"""Several signs of one pup are one alert, with the sentence of the gravest. Our choice of order."""

RULE = Rule(
    id=ID,
    group="each pup",
    title="Sign of illness in a pup",
    watch=watch,
    says=_SAYS,
    do={
        Level.WATCH: (
            "Feel its mouth: cold means warm it first, slowly, and do not feed it yet.",
            "Take its temperature. Once it is warm, see that it suckles and swallows.",
            "Look again in 15 minutes and write down what you see, `well` too.",
        ),
        Level.CALL: (
            "Ring the vet now. Say what you see, since when, and how old the pup is.",
            "Keep it warm, and do not feed it while it is cold.",
            "Look at every other pup and at the dam, and write down what the vet says.",
        ),
        Level.GO: (
            "Leave for the vet now and ring on the way.",
            "Somebody else drives: keep the pup warm and its mouth and nose clear. Feed nothing.",
        ),
    },
    page=__doc__,
    minutes=_MINUTES,
    running="Sign in a pup",
    gravest_first=_GRAVEST_FIRST,
)
