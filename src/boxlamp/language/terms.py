"""The trade's words and their synonyms: what a person may type, and what it stands for.

To teach the log another synonym, add it here after a ``|``.
"""

from boxlamp.language.tokens import Token, table, words_of
from boxlamp.model.seen import BirthState, Colour, DamSign, Presentation, PupSign, Sex, SignName

SEXES: dict[str, Sex] = table({
    "dog": "m|male|boy|dogs|males|boys",
    "bitch": "f|female|girl|b|bitches|females|girls",
})  # fmt: skip

BIRTH_STATES: dict[str, BirthState] = table({
    "alive": "live|well|fine|ok|lively|strong|vigorous|crying|breathing|good",
    "limp": "floppy|flat|lifeless|not breathing|no breath|no breathing|isn't breathing"
            "|isnt breathing|not moving|isn't moving|isnt moving",
    "dead": "stillborn|still born|born dead|stillbirth",
})  # fmt: skip

PRESENTATIONS: dict[str, Presentation] = table({
    "head": "head first|headfirst|nose first|forwards|forward",
    "feet": "feet first|foot first|hind feet first|back feet first|hind legs first|back legs first"
            "|backwards|backward",
    "rump": "rump first|breech|bottom first",
})  # fmt: skip

IN_SAC = table({"in sac": "in the sac|in its sac|inside sac|in bag|in the bag|sac unopened"})

ALL = table({"all": "litter|pups|puppies|all pups|the pups|everyone|every pup|whole litter"})
"""The whole litter."""

BIRTH_NOISE = words_of(
    "pup puppy born birth number delivered weight sex weighs out here newborn mark marked called "
    "named came arrived popped"
)
"""Words in the line of a birth that add nothing to it, or say that the mark follows."""

VERY = words_of("very so really quite still all too bit looks seems feels")
"""Words beside a sign that add nothing to it."""

NAMING = words_of("mark marked called named")
"""Those of them that say so."""

COLOURS: dict[str, Colour] = table({
    "clear": "watery|colourless|mucus|transparent",
    "green": "greenish|dark green|green black|greenish black|blackish green|olive|greeny"
             "|light green|bright green|greenish brown|brownish green|green brown|brown green"
             "|dark greenish|green/black",
    "black": "blackish|very dark|tarry|black green",
    "red": "bloody|blood|fresh blood|pink|reddish|bright red|pinkish|dark red"
           "|deep red|light red|red blood|dark red blood|bright red blood|dark blood",
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
    "strong": "hard|big|huge|heavy|strongly|powerful|s",
    "weak": "light|small|slight|mild|weakly|faint|little|tiny|w",
    "unspecified": "",
})  # fmt: skip

_VAINLY = ("nothing comes|nothing coming|nothing is coming|nothing's coming|nothing comes out"
           "|nothing coming out|nothing is coming out|nothing out|no pup|no pup yet|no pups"
           "|no pups yet|no puppy|no puppy yet|no pup coming|no pup comes|no pup out")  # fmt: skip


def _led(phrases: str) -> str:
    leads = ("", "but ", "still ", "but still ")
    return "|".join(f"{lead}{one}" for one in phrases.split("|") for lead in leads)


IN_VAIN_SURELY = table({"nothing": _led(_VAINLY)})
"""Behind a push: it brought nothing yet. ``nothing`` alone may say that there was no push."""
del IN_VAIN_SURELY["nothing"]

IN_VAIN = table(
    {
        "nothing": _led(f"nothing|nothing yet|nothing happening|nothing is happening|{_VAINLY}"),
    }
)
"""The same behind a push of which more is said: its strength, or how long she has pushed."""

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
    "dull": "listless|lethargic|depressed|lethargy|weak|very weak|exhausted|worn out",
    "bright": "bright and alert|alert|lively|well|happy|fine",
    "vomited": "vomiting|vomit|sick|been sick|vomits|threw up",
    "collapsed": "collapse|collapsing|fell down",
    "fits": "fit|fitting|seizure|seizures|convulsing|convulsions|seizing",
    "rigid": "rigidity",
    "cannot-stand": "can't stand|cant stand|can not stand|won't get up|can't get up|can't stand up"
                    "|cant stand up|can not stand up|cannot stand up",
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
    "udder-well": "udder fine|udder ok|udder soft|udder normal|gland fine|gland soft"
                  "|udder better|udder well|soft udder",
    "recovered": "fully recovered|back to normal",
})  # fmt: skip

PUP_SIGNS: dict[str, PupSign] = table({
    "crying": "cries|cry|whining|whimpering|screaming|cries all the time",
    "limp": "floppy|flat|lifeless|not moving|isn't moving|isnt moving|is not moving|doesn't move"
            "|won't move|does not move",
    "gasping": "gasps|gasp",
    "not-breathing": "no breath|stopped breathing|no breathing|isn't breathing|isnt breathing"
                     "|is not breathing|has stopped breathing",
    "blue": "bluish",
    "pale": "white|pale gums",
    "cold": "chilled|cool",
    "bloated": "bloat|swollen belly|hard belly",
    "diarrhoea": "diarrhea|scours|loose|runny",
    "not-suckling": "not sucking|won't suckle|wont suckle|not feeding|won't feed|not nursing"
                    "|won't suck|no suck|off milk",
    "cleft-palate": "cleft",
    "navel": "navel red|red navel|swollen navel|navel swollen",
    "fits": "fit|fitting|seizure|seizures|twitching awake|paddling|convulsing",
    "weak": "weakly|fading|feeble|dull|listless|sleepy|lethargic",
    "laboured-breathing": "labored breathing|hard breathing|breathing hard|struggling to breathe"
                          "|struggles to breathe|struggling for breath|fighting for breath",
    "milk-at-nose": "milk from nose|milk from the nose|milk out of nose|milk through nose",
    "dark-tips": "dark toes|dark tail|black toes|black tail|dead tail|dead toes|dying toes",
    "no-anus": "anus missing|no opening",
    "no-stool": "no poo|no poop|not pooping|not pooed|no stools|not passed stool",
    "sore-anus": "red anus|swollen anus|red bottom|sore bottom",
    "open-fontanelle": "open skull|soft skull|open fontanel|hole in skull",
    "sleeps-still": "no twitching|sleeps too still|does not twitch|doesn't twitch",
    "swollen-eye": "swollen eyes|eye swollen|swelling under lids|eye discharge|pus in eye",
    "splayed-legs": "splay legs|legs splayed|swimmer|flat on its chest",
    "well": "fine|ok|good|bright|strong|healthy",
})  # fmt: skip

SUCKLING = table({
    "milk": "drinking|drinks|drank|is drinking|suckles|had milk|got milk|has had milk",
})  # fmt: skip
"""What a pup does that the dam may do too: said of a pup, it is milk."""

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


ALIVE = table({
    "alive": "revived|has revived|came back|come back|came round|come round|came to life|living"
             "|came back to life|come back to life|alive again|resuscitated|brought back"
             "|not dead|isn't dead|is not dead|wasn't dead|was not dead|started breathing"
             "|has started breathing|starts breathing|breathing after all",
})  # fmt: skip
"""What says of a pup that is written down as dead that it is alive."""

NOT_SURELY = words_of("not no never nearly almost maybe perhaps yet")
"""Words after "died" that show it is not surely so."""

NOT_BORN = words_of(
    "not no none never isn't isnt hasn't hasnt won't wont can't cant "
    "coming showing stuck yet soon crowning visible due moving waiting "
    "expected half almost nearly maybe still"
)
"""Words that show a line which begins like a birth is none."""

FILLERS = table({
    "filler": "she's|she is|she has|there is|there's|theres|there are|i can see|i see|can see"
              "|we can see|it's|it is|he's|he is|hes|shes|help|please|quick|help me",
})  # fmt: skip
"""What may stand before the words of a line and adds nothing."""

FOR_HELP = frozenset(
    f"{asking}{what}"
    for asking, whats in (
        ("what do i ", "do"),
        ("what ", "do we do|to do|next|wrong|can i do|must i do"),
        ("what shall ", "i do|we do"),
        ("what should ", "i do|we do"),
        ("", "what|what's wrong"),
        ("i don't know ", "what to do"),
        ("i dont know ", "what to do"),
        ("", "normal|me|us"),
        ("this ", "normal|ok|bad"),
        ("that ", "normal|ok|bad"),
        ("", "need|i need|we need"),
        ("should i ", "ring vet|call vet|phone vet"),
        ("shall i ", "ring vet|call vet|phone vet"),
        ("do i ", "ring vet|call vet|phone vet"),
        ("", "emergency|sos"),
    )
    for what in whats.split("|")
)
"""Whole lines that ask for help and tell nothing, without cries and words that mean nothing."""

CRIES = words_of("help please pls quick quickly hurry urgent urgently")
"""What may be cried behind the words of a line and adds nothing."""

SLIPS, OVER, STUCK, WEAK = "slip", "over", "part something", "weak"
HOME = "note home"
PLAIN_ALONE: dict[str, str] = table({
    "part head": "head|head is out|the head is out|head stuck|head is stuck|head is showing"
                 "|head is visible",
    "part feet": "foot|feet|paw|paws|feet stuck|foot is out|feet are out|feet are showing"
                 "|foot is showing|legs|leg|a leg",
    "part tail": "tail",
    STUCK: "pup stuck|puppy stuck|stuck pup|stuck puppy|pup half out|puppy half out"
                      "|pup is stuck|puppy is stuck|pup stuck half out|puppy stuck half out"
                      "|puppy is stuck half out|pup is stuck half out|pup is half out"
                      "|puppy is half out|half out",
    "part nose": "nose",
    "waters": "waters have broken|waters are broken|water everywhere|waters everywhere"
              "|water has broken|waters have gone",
    "discharge red": "blood|dark red blood|dark blood|fresh blood|bright red blood|bit of blood"
                     "|some blood|blood seen",
    "discharge red streak": "little blood|spot of blood|spots of blood|streak of blood",
    "discharge red heavy": "lots of blood|lot of blood|a lot of blood|heavy bleeding"
                           "|bleeding a lot|bleeding heavily|bleeding lots|blood everywhere"
                           "|bleeding badly|so much blood|much blood|heavy blood",
    "discharge red clots": "blood clots|clots of blood",
    "dam trembling": "shaking|trembles",
    "dam dull": "exhausted|worn out",
    WEAK: "very weak|so weak|too weak|really weak",
    "dam fits": "fit|fits|seizure|fitting|having a fit|had a fit|having fits|having a seizure"
                "|had a seizure|seizing|having seizures",
    "dam vomited": "sick once|been sick|sick|vomited|vomiting|threw up|thrown up|been sick once"
                   "|vomited once",
    "dam off food": "wont eat|won't eat|not eating|off food|off her food|refusing food"
                    "|refuses food|will not eat",
    HOME: "home|back home|home again|home now|back home again|back home now|came home|come home"
          "|came home again|we're home|were home|we are home|we are home again|we are back home"
          "|arrived home|we came home|got home|got back home|we got home"
          "|were home again|were back home"
          "|we're home again|we're back home|home from vet|home from the vet|home from vets"
          "|home from the vets|back from vet|back from the vet|back from vets|back from the vets"
          "|turned back|we turned back|turned round|turned around",
    "vet arrived": "arrived at vet|arrived at the vet|arrived at vets|arrived at the vets"
                   "|got to vet|got to the vet|got to vets|got to the vets|arrived at the vet's",
    OVER: "done|all done|that's all|thats all|that is all|that's it|thats it|that was all",
    SLIPS: "scratch that|forget that|delete that|that was wrong|that's wrong|thats wrong"
           "|ok|okay|oops|ooops|mistake|my mistake|cancel|wrong|sorry|ignore that|undo"
           "|undo that|undo it|undo last|log undo|boxlamp undo",
    "!head": "head first|nose first",
    "!feet": "feet first|foot first|back feet first|hind feet first|back legs first"
             "|hind legs first",
    "!tail": "tail first",
    "!rump": "rump first|bottom first|breech",
})  # fmt: skip
"""Whole lines said in everyday words; one that begins with ! may mean two things."""

PLAIN: dict[str, str] = table({
    "afterbirth eaten": "ate the placenta|ate placenta|ate the afterbirth|ate afterbirth"
                        "|eaten the placenta|eaten the afterbirth|eating the placenta"
                        "|eating the afterbirth|ate her placenta|ate the placentas",
    "pup": "pup's|puppy's",
    "left for": "on way to|on the way to|on our way to|on way to the|on the way to the"
                "|on our way to the",
    "contraction": "still pushing|still straining|still contracting|been pushing"
                   "|been straining|been contracting",
})  # fmt: skip
"""The beginnings of lines said in everyday words."""

_WAYS = words_of("mouth tube bottle injection drip syringe hand vein")


def is_way(token: Token) -> bool:
    """Whether this word after "by" tells how something was given, and not who gave it."""
    return token.key in _WAYS and not token.quoted
