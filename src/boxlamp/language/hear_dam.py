"""Reading how the dam is, what was given, what the vet said, and plain notes."""

from typing import get_args

from boxlamp.language import sentences
from boxlamp.language.context import NotUnderstood
from boxlamp.language.ear import Ear, refuse_a_time
from boxlamp.language.terms import DAM_SIGNS, SIGNS, is_way
from boxlamp.language.tokens import Words, table, words_of
from boxlamp.language.word import Word
from boxlamp.model.happenings import Ack, DamState, Note, Sign, Treatment, VetContact
from boxlamp.model.litter import says_home
from boxlamp.model.seen import DamSign, SignName

CONTACTS = table({
    "called": "called the|rang the|phoned the|call|calling|rang|phoned|telephoned|ring|phone|rung"
              "|calling the|ringing|ringing the|phoning|phoning the",
    "advised": "advises|advice|says|told us|told me|said",
    "arrived": "came|here|has come|is here|at vet|at vets|at the vet|at the vets|at the vet's",
    "seen": "saw|saw her|examined|checked|examined her|checked her|visit|visited|check",
    "left-for": "left for vet|left for the vet|leaving for vet|leaving for the vet"
                "|going to vet|going to the vet|driving to vet|driving to the vet",
})  # fmt: skip
_RESTLESS: dict[str, SignName] = {
    phrase: sign for phrase, sign in SIGNS.items() if sign in {"panting", "restless", "nesting"}
}
_COMING = frozenset(("coming", "on"))
_COMES = frozenset(("coming", "come"))
_LEFT = frozenset(("left", "gone", "leaving", "leaves"))
_CAESAREAN = words_of("caesarean caesarian cesarean cesarian caesar csection c-section section")
_DENIED = frozenset(("not", "no", "never", "isn't", "didn't", "hasn't", "won't", "can't", "cannot"))
_VET = frozenset(("vet", "vet's"))


def dam(words: Words, ear: Ear) -> DamState | Sign:
    """``dam ate drank``: how she is now, one or more signs; ``dam panting`` is a sign too.

    Both in one line: one entry cannot be both, and how she is is kept.
    """
    restless: list[SignName] = []
    while (stirring := words.phrase(_RESTLESS)) is not None:
        restless.append(stirring)
    if restless and words.peek() is None:
        return Sign(signs=tuple(dict.fromkeys(restless)))
    signs: list[DamSign] = []
    while words.peek() is not None:
        if (found := words.phrase(DAM_SIGNS)) is not None:
            signs.append(found)
        elif (stirring := words.phrase(_RESTLESS)) is not None:
            restless.append(stirring)
        else:
            break
    if restless and signs:
        said = " ".join(dict.fromkeys(restless))
        ear.remarks.append(sentences.SIGN_APART.format(said))
    if words.peek() is not None or not signs:
        refuse_a_time(words)
        raise NotUnderstood(sentences.SIGN_OF.format(", ".join(get_args(DamSign))))
    return DamState(signs=tuple(dict.fromkeys(signs)))


def given(words: Words, _ear: Ear) -> Treatment:
    """``given WHAT by WHO``. What is typed is kept and never weighed or compared."""
    by = words.find("by", last=True)
    if by is not None and words.tokens[by + 1 :] and is_way(words.tokens[by + 1]):
        by = None
    if words.key() == "up" and words.key(1) != "to":
        raise NotUnderstood(f"{sentences.NO_CLOCK} {sentences.GIVEN_UP}", "rest")
    what = words.free(until=by)
    if not what.strip(" ."):
        raise NotUnderstood(sentences.GIVEN_WHAT, "given glucose by Jana")
    if by is None:
        return Treatment(what=what)
    words.pop()
    return Treatment(what=what, by=words.free())


def vet(words: Words, ear: Ear) -> VetContact:
    """``vet called; said ...``: what was said may follow, with or without the ``;``."""
    while words.peek() is not None and words.key() in _VET:
        words.pop()
    words.skip_noise()
    if words.key() in _DENIED and not _COMES.isdisjoint({words.key(1), words.key(2)}):
        return VetContact(contact="called", said=words.free())  # it takes back that the vet comes
    if words.key() in _DENIED:
        raise NotUnderstood(sentences.NOT_THE_EVENT, f"vet called; {words.free()}")
    contact = words.phrase(CONTACTS)
    if contact is None and words.key() in _COMING:
        # The vet is on the way, so was rung; it is no advice, which would end alerts.
        return VetContact(contact="called", said=words.free() or ear.take_note())
    if contact is None:
        raise _what_of_the_vet(words)
    if words.key() in _VET:
        words.pop()
    said = words.free() or ear.take_note()
    return VetContact.model_validate({"contact": contact, "said": said})


def _what_of_the_vet(words: Words) -> NotUnderstood:
    """Never a contact that was not said: what the vet advised ends alerts and is said back."""
    keys = [token.key for token in words.tokens]
    if not _CAESAREAN.isdisjoint(keys):
        return NotUnderstood(sentences.VET_OPERATES, "caesarean")
    if words.key() in _LEFT:
        return NotUnderstood(sentences.WHO_LEFT, "left for vet\nnote the vet left")
    typed = words.text.strip()
    return NotUnderstood(sentences.VET_WHAT, f"note {typed}" if len(keys) > 1 else "")


def note(words: Words, ear: Ear) -> Note:
    """``note ...``: everything after the word is kept, a ``;`` too; without any it is asked."""
    free = words.free()
    if not free:
        ear.doubt("empty-note", sentences.EMPTY_NOTE, sentences.EMPTY_NOTE_FIX)
    written = Note(words=free)
    litter = ear.context.litter
    if says_home(written) and (litter.vet_came or litter.left_for_vet):
        ear.remarks.append(sentences.HOME_AGAIN)
    return written


def ack(words: Words, _ear: Ear) -> Ack:
    """``ack [rule]``."""
    token = words.peek()
    if token is None or (token.key == "all" and not token.quoted):
        return Ack()
    words.pop()
    if words.peek() is not None:
        raise NotUnderstood(sentences.ACK_ONE, "ack contraction-no-pup")
    return Ack(rule=token.raw if token.quoted else token.key)


WORDS = (
    Word("dam", "dam ate/drank/dull/vomited/collapsed/trembling/stiff/pale/bleeding/...",
         "How the dam looks now; one or more of: " + ", ".join(get_args(DamSign)) + ".",
         ("dam ate drank", "dam off food", "dam won't eat", "dam pale gums", "dam fitting"), dam,
         synonyms=("mum", "mother"),
         telling=("ate", "drank", "collapsed", "unresponsive", "trembling", "unsteady", "wobbly",
                  "cannot stand", "can't stand", "pale gums", "white gums", "bleeding")),
    Word("given", "given WHAT [by WHO]", "A treatment that was given. Recorded only.",
         ("given glucose by Jana", "given calcium by Dr Novak"), given,
         synonyms=("gave", "treatment", "treated with"), by_day=True),
    Word("vet", "vet called/advised/arrived/seen ...", "The vet was rung, advised, came, saw her.",
         ("vet called; said to wait an hour", "vet seen", "left for vet"), vet,
         synonyms=("called", "rang", "phoned", "the vet"),
         telling=("called vet", "rang vet", "phoned vet", "called the vet", "rang the vet",
                  "left for vet", "left for the vet", "leaving for vet", "leaving for the vet",
                  "going to vet", "going to the vet", "phoned the vet", "advised", "driving to vet",
                  "driving to the vet", "at the vet", "at the vets", "at vets", "at the vet's",
                  "ringing vet", "ringing the vet", "calling vet", "calling the vet",
                  "phoning vet", "phoning the vet"),
         by_day=True),
    Word("ack", "ack [RULE]", "You have taken notice: the sound rests, the display stays.",
         ("ack", "ack contraction-no-pup"), ack,
         synonyms=("acknowledge", "acknowledged", "noticed")),
    Word("note", "note ...", "Free words.", ("note she is calm; box at the window",), note,
         synonyms=("n", "remark"), by_day=True, whole=True),
)  # fmt: skip
