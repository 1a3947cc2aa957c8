"""The trade's words and their synonyms: what a person may type, and what it stands for.

To teach the log another synonym, add it here after a ``|``.
"""

from boxlamp.language.tokens import Token, table, words_of
from boxlamp.model.happenings import (
    BirthState,
    Colour,
    DamSign,
    Presentation,
    PupSign,
    Sex,
    SignName,
)

SEXES: dict[str, Sex] = table({
    "dog": "m|male|boy|dogs",
    "bitch": "f|female|girl|b",
})  # fmt: skip

BIRTH_STATES: dict[str, BirthState] = table({
    "alive": "live|well|fine|ok|lively|strong|vigorous|crying|breathing|good",
    "limp": "floppy|lifeless|not breathing|no breath|no breathing",
    "dead": "stillborn|still born|born dead|stillbirth",
})  # fmt: skip

PRESENTATIONS: dict[str, Presentation] = table({
    "head": "head first|headfirst|nose first|forwards|forward",
    "feet": "feet first|foot first|hind feet first|back feet first|backwards|backward",
    "rump": "rump first|breech|tail first|bottom first",
})  # fmt: skip

IN_SAC = table({"in sac": "in the sac|in its sac|inside sac|in bag|in the bag|sac unopened"})

BIRTH_NOISE = words_of(
    "pup puppy born birth number delivered weight sex weighs out here newborn mark marked called "
    "named"
)
"""Words in the line of a birth that add nothing to it, or say that the mark follows."""

COLOURS: dict[str, Colour] = table({
    "clear": "watery|colourless|mucus|transparent",
    "green": "greenish|dark green|green black|greenish black|blackish green|olive",
    "black": "blackish|very dark",
    "red": "bloody|blood|fresh blood|pink|reddish|bright red|pinkish",
    "brown": "brownish|reddish brown|rusty|dark brown|brown red|red brown",
    "yellow": "yellowish|mustard|straw",
    "pus": "purulent|creamy",
    "unknown": "colour unknown",
})  # fmt: skip

AMOUNTS = table({
    "streak": "streaks|spot|spots|spotting|little|bit|slight|drops|drop|trace",
    "some": "moderate|medium",
    "heavy": "lots|lot|much|pouring|gushing|flooding|heavily|a lot",
    "clots": "clot|clotted|clotting",
    "none": "gone|dry|stopped|ended|finished",
})  # fmt: skip

FOUL = table({"foul": "smelly|stinking|smells|stinks|bad smell|foul smell|foul smelling|rotten"})

STRENGTHS = table({
    "strong": "hard|big|heavy|strongly|powerful|s",
    "weak": "light|small|slight|mild|weakly|faint|w",
    "unspecified": "",
})  # fmt: skip

PARTS = table({
    "head": "nose|face|muzzle",
    "feet": "foot|paw|paws|leg|legs|hind feet|back feet",
    "tail": "",
    "rump": "bottom|hips|back end|bum",
    "unknown": "something",
})  # fmt: skip

SIGNS: dict[str, SignName] = table({
    "restless": "restlessness|pacing|unsettled|uneasy",
    "nesting": "nest|bed making|scratching bedding",
    "panting": "pant|pants",
    "shivering": "shivers|shiver|shaking",
    "digging": "digs|dig|scratching",
    "off-food": "off her food|won't eat|wont eat|not eating|refused food|refusing food|no appetite",
    "vomited": "vomiting|vomit|sick|been sick|vomits",
})  # fmt: skip

DAM_SIGNS: dict[str, DamSign] = table({
    "ate": "eating|eats|eaten|eat|has eaten",
    "drank": "drinking|drinks|drunk|drink",
    "refused-food": "off food|off her food|won't eat|wont eat|not eating|refuses food|no appetite"
                    "|refusing food|not eaten|will not eat|doesn't eat",
    "dull": "listless|lethargic|depressed|lethargy",
    "bright": "bright and alert|alert|lively|well|happy|fine",
    "vomited": "vomiting|vomit|sick|been sick|vomits|threw up",
    "collapsed": "collapse|collapsing|fell down",
    "fits": "fit|fitting|seizure|seizures|convulsing|convulsions|seizing",
    "rigid": "rigidity",
    "cannot-stand": "can't stand|cant stand|can not stand|won't get up|can't get up",
    "pale": "pale gums|gums pale|white gums|gums white",
    "blue": "blue gums|gums blue|blue tongue|tongue blue|purple gums",
    "unresponsive": "no response|not responding|unconscious|won't wake",
    "trembling": "tremble|trembles|tremor|tremors|shaking|twitching|shivering",
    "stiff": "stiffness|stiff legs|stiff gait|stiff walk",
    "staring": "stare|glassy eyes",
    "unsteady": "wobbly|staggering|drunken|unsteady on her feet|wobbling",
    "face-rubbing": "rubbing face|rubs face|rubbing her face|pawing face",
    "bleeding": "bleeds|bleed",
    "udder-hot": "hot udder|hot gland|hot teat|gland hot",
    "udder-hard": "hard udder|hard gland|hard teat|gland hard",
    "udder-painful": "painful udder|painful gland|sore udder|sore teat|sore gland|udder sore",
    "udder-purple": "purple udder|purple gland|gland purple",
    "udder-black": "black udder|black gland|gland black",
    "recovered": "fully recovered|back to normal",
})  # fmt: skip

PUP_SIGNS: dict[str, PupSign] = table({
    "crying": "cries|cry|whining|whimpering|screaming|cries all the time",
    "limp": "floppy|lifeless",
    "gasping": "gasps|gasp",
    "not-breathing": "no breath|stopped breathing|no breathing",
    "blue": "bluish",
    "pale": "white|pale gums",
    "cold": "chilled|cool",
    "bloated": "bloat|swollen belly|hard belly",
    "diarrhoea": "diarrhea|scours|loose|runny",
    "not-suckling": "not sucking|won't suckle|wont suckle|not feeding|won't feed|not nursing"
                    "|won't suck|no suck|off milk",
    "cleft-palate": "cleft",
    "navel": "navel red|red navel|swollen navel|navel swollen",
    "fits": "fit|fitting|seizure",
    "weak": "weakly|fading|feeble",
    "well": "fine|ok|good|bright|strong|healthy",
})  # fmt: skip

MARK_COLOURS = words_of(
    "red blue green yellow orange purple pink black white brown grey gray lilac turquoise mint "
    "gold silver cream tan violet navy teal lime"
)
MARK_WORDS = MARK_COLOURS | words_of(
    "light dark pale bright neon striped spotted collar band ribbon wool yarn thread tape nail "
    "varnish patch blaze tip tail nose foot paw left right front back"
)
"""A mark made of these words, one of them a colour, is plainly a mark without being called one."""


def is_plain_mark(words: list[str]) -> bool:
    """Whether these words are plainly a mark, such as ``light green collar``."""
    return set(words) <= MARK_WORDS and not MARK_COLOURS.isdisjoint(words)


NOT_BORN = words_of(
    "no not none never coming showing stuck yet soon crowning visible due moving waiting "
    "expected half almost nearly maybe still"
)
"""Words that show a line which begins like a birth is none."""

_WAYS = words_of("mouth tube bottle injection drip syringe hand vein")


def is_way(token: Token) -> bool:
    """Whether this word after "by" tells how something was given, and not who gave it."""
    return token.key in _WAYS and not token.quoted
