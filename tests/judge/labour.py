"""The labour rules. Catalogue: the table "Labour"; what it leaves open is marked "page"."""

from judge.clocks import Chapter, Clock

_NUMBERS = {
    "short_rest": ("contraction-no-pup", "short-rest"),
    "short_weak_rest": ("weak-contraction-no-pup", "short-rest"),
    "calm": ("second-stage-long", "calm-after-last"),
}

_TERMS = """
    # A caesarean ends labour, and so does finished; where a pup may still be in her only the
    # vet's or a scan's word does (page of contraction-no-pup).
    over := caesarean or finished
    ended_for_sure := caesarean or finished_by_vet
    push := strong or weak
    # A rest shorter than this is none: pushing after it goes on with the clock of before.
    resting := (not (strong or birth or ended_for_sure)) since rest
    long_rest := historically[0:{short_rest.early}](resting)
    pushing := (not (rest or birth or ended_for_sure)) since strong
    spell_of_pushing := (not (long_rest or birth or ended_for_sure)) since strong
    resting_weakly := (not (weak or birth or over)) since rest
    long_weak_rest := historically[0:{short_weak_rest.early}](resting_weakly)
    pushing_weakly := (not (rest or birth or over)) since weak
    spell_of_weak_pushing := (not (long_weak_rest or birth or over)) since weak
    # How many are to come, by the best count; numbers are whole, so half a pup decides.
    more_to_come := counted and (pups_expected >= pups_born + 0.5)
    reached := counted and (pups_born + 0.5 >= pups_expected)
    # Pups born after a caesarean were delivered by it: such a birth begins no labour.
    own_birth := birth and not (once(caesarean))
    # Since the last birth: each birth starts it afresh.
    after_a_birth := (not birth) and ((not over) since own_birth)
    second_stage := (not over) since ((push and not (once(caesarean))) or own_birth)
    calm_after_last := reached and (by_xray or by_scan) and
            (historically[0:{calm}](not (push or birth)))
    second_stage_runs := second_stage and not (calm_after_last)
    # A discharge after the first pup or a caesarean is no discharge before it.
    no_pup_yet := historically(not (birth or caesarean))
    # Red: until a discharge that says that it has stopped, or until she is well (page).
    stanched := bright or recovered or no_discharge or streak or other_colour
    bleeds_some := (not stanched) since red_some
    bleeds_heavily := (not stanched) since (red_heavy or dam_bleeding)
    # Foul, pus or mustard-yellow, until the next discharge that is none of these; a go while she
    # is also ill (page: her last temperature, dull until bright, off food until she has eaten).
    is_foul := (not (not_foul)) since foul
    # In one line with what is wrong a good word takes nothing back.
    is_dull := (not ((bright or recovered) and not (dull))) since dull
    is_off_food := (not ((ate or recovered) and not (refused_food))) since refused_food
    is_ill := feverish or is_dull or is_off_food
    # Somebody who has looked inside, or a birth, ends what the breeder called finished (page).
    not_done := (not (birth or ended_for_sure)) since finished_by_breeder
    calm_since_birth := (not birth) and ((not (push or over)) since own_birth)
"""

# A rest that ends strong pushing keeps the level that this spell of it had reached by the end of
# the second before: what comes in the very second of the limit, or in that in which the limit is
# made shorter, has come in time. While the rest may be short yet a strong push takes the level
# back; after a long one nothing does but what ends labour, however often she pushes.
# After weak pushes the same, with what stops those: "finished" too, whoever says it (page).


def _kept(push: str, pushing: str, spell: str, *, long_rest: str, ended: str) -> str:
    still_resting = f"""(not ({push} or birth or {ended})) since
        (rest and (once[{{tick}}:{{tick}}]({pushing})) and
        (historically[{{tick}}:0.5]({spell})) and (once[0.5:0.5](reached)))"""
    return f"""({still_resting}) or ((not (birth or {ended})) since
        ({long_rest} and ({still_resting})))"""


_KEPT = _kept(
    "strong", "pushing", "spell_of_pushing", long_rest="long_rest", ended="ended_for_sure"
)
_KEPT_WEAK = _kept(
    "weak", "pushing_weakly", "spell_of_weak_pushing", long_rest="long_weak_rest", ended="over"
)

LABOUR = Chapter(
    _NUMBERS,
    _TERMS,
    (
        # From the breaking of the waters, or a new gush later, to a birth.
        Clock("waters-no-pup", "main", "(not (birth or over)) since waters"),
        # A sac at the vulva, until a birth or a rest with the sac gone.
        Clock("sac-no-pup", "main", "(not (birth or sac_gone or over)) since sac"),
        # From the first strong push since the last birth or rest; shown while she pushes.
        Clock("contraction-no-pup", "main", "spell_of_pushing", shows="pushing"),
        # The call or go that such pushing had reached when she rested, until a birth.
        Clock("rest-no-pup", "main", "spell_of_pushing", kept=_KEPT),
        # The same of weak pushes; a strong one is the rule above.
        Clock("weak-contraction-no-pup", "main", "spell_of_weak_pushing", shows="pushing_weakly"),
        # The call or go that such pushing had reached when she rested, until a birth.
        Clock("weak-rest-no-pup", "main", "spell_of_weak_pushing", kept=_KEPT_WEAK),
        # A part of a pup shows, until it is born.
        Clock("part-showing", "main", "(not (birth or ended_for_sure)) since part"),
        # The time since the last birth, while more are known to come.
        Clock("gap-more-expected", "main", "after_a_birth", shows="more_to_come"),
        # The same while nobody knows, or only a guess (page: or an ultrasound count) is reached.
        Clock("gap-count-unknown", "main", "after_a_birth",
              shows="not (counted) or (reached and not (by_xray))"),
        # From the first contraction or birth until finished, or 2 h of calm after the last one.
        Clock("second-stage-long", "main", "second_stage", shows="second_stage_runs"),
        # Green or black and no pup born (page: waters of that colour too).
        Clock("green-before-first-pup", "main",
              "no_pup_yet and ((not ended_for_sure) since (green or green_waters))"),
        # Red: some is watched, and rung about when still fresh; heavy goes at once.
        Clock("bleeding", "some", "bleeds_some"),
        Clock("bleeding", "heavy", "bleeds_heavily"),
        # Foul at once; and at once a go while she is ill.
        Clock("foul-discharge", "main", "is_foul"),
        Clock("foul-discharge", "ill", "is_foul and is_ill"),
        # The second stage runs and nobody has written anything since.
        Clock("log-quiet", "main", "not (typed or untyped)", shows="second_stage_runs"),
        # Called finished by the breeder with fewer born than counted.
        Clock("litter-short", "finished", "not_done and by_xray and more_to_come"),
        Clock("litter-short", "finished-scan", "not_done and by_scan and more_to_come"),
        # Calm past the limit of the gap, with fewer born than the x-ray shows.
        Clock("litter-short", "calm", "calm_since_birth", shows="by_xray and more_to_come"),
    ),
)  # fmt: skip
