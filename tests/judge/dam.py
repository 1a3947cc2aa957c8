"""The rules about the dam that are clocks, or states that something begins and something ends.

Catalogue: the table "The dam"; what it leaves open is marked "page".
"""

from judge.clocks import Chapter, Clock

_TERMS = """
    push := strong or weak
    since_birth := (not birth) and (once(birth))
    # A push after it does not make it labour again; a birth or a caesarean does.
    called_finished := (not (birth or caesarean)) since finished
    comes := birth or ((push or waters or sac or part) and not (once(caesarean)))
    well := bright or recovered
    # After the whelping: finished, or some hours after the last birth or the caesarean with no
    # push, waters, sac or part since; after a caesarean these count no more (page).
    done_food := called_finished or ((once(birth or caesarean)) and
            (historically[0:{calm_food.early}](not (comes or caesarean))))
    done_udder := called_finished or ((once(birth or caesarean)) and
            (historically[0:{calm_udder.early}](not (comes or caesarean))))
    off_food := (not (ate or recovered or birth or caesarean)) since
            (refused_food and done_food)
    # In one line with what is wrong, a good word takes nothing back.
    soft := udder_well or recovered
    hard := udder_sore and done_udder
    sore := (not (soft and not (hard))) since hard
    dark := (not (soft and not (udder_dark))) since udder_dark
    collapses := (not (well and not (collapse))) since collapse
    # Green still reported half a day or more after the last birth.
    green_still := (not (birth or no_discharge or other_than_green)) since
            (green and (once(birth)) and (historically[0:{ordinary.early}](not birth)))
    # Any discharge after the last pup; a report stands for some days (page).
    last_pup := (not (birth or caesarean)) and (once(birth or caesarean or finished))
    reported := (not (no_discharge or birth or caesarean)) since[0:{stands}] discharge
    # The vet has looked, or it was the vet who called it finished (page).
    vet_has_looked := (not birth) since (vet_looked or finished_by_vet)
    unseen_by_vet := ((not birth) since finished) and not (once(caesarean))
    troubled := (unseen >= 0.5) or (owed >= 0.5) or (once(pup_in_need or treated))
    # Trembling counts after the whelping, or half a day of calm after the last birth (page).
    whelped := (once[0:{tremor_until.late}](birth or caesarean)) or
            ((once[0:{tremor_until.late}](finished)) and not (once(birth or caesarean)))
    quiet := called_finished or
            (historically[0:{calm_tremor.early}](not (comes or caesarean)))
    calm_again := well and not (trembling or stiffness or face_rubbing)
    trembles := (not calm_again) since trembling
    is_stiff := (not calm_again) since stiffness
    rubs := (not calm_again) since face_rubbing
    with_another := (trembling or face_rubbing) and trembles and (is_stiff or rubs)
    tremor_begins := whelped and (stiffness or with_another or (trembling and quiet))
    tremor := (not calm_again) since tremor_begins
"""

DAM = Chapter(
    {
        "calm_food": ("dam-off-food", "calm"),
        "calm_udder": ("udder", "calm"),
        "calm_tremor": ("dam-tremor", "calm"),
        "tremor_until": ("dam-tremor", "until"),
        "ordinary": ("green-after-whelping", "ordinary-for"),
        "stands": ("lochia-long", "stands"),
    },
    _TERMS,
    (
        # Refusing food after the whelping, until she has eaten or recovered.
        Clock("dam-off-food", "main", "off_food"),
        # A gland hot, hard or painful; purple or black.
        Clock("udder", "main", "sore"),
        Clock("udder", "dark", "dark"),
        # Collapsed, fits, rigid, cannot stand, pale, blue, unresponsive.
        Clock("dam-collapse", "main", "collapses"),
        # Stiff, staring, unsteady, or trembling with a sign more, to day 42.
        Clock("dam-tremor", "main", "tremor"),
        # The clock of both is the time since the last pup; they show while it is reported.
        Clock("green-after-whelping", "main", "since_birth", shows="green_still"),
        Clock("lochia-long", "main", "last_pup", shows="reported"),
        # From finished until a vet has seen her; sooner rung about when all was not smooth.
        Clock("vet-check-due", "main", "unseen_by_vet", shows="not (vet_has_looked)"),
        Clock("vet-check-due", "helped", "unseen_by_vet",
              shows="troubled and not (vet_has_looked)"),
    ),
)  # fmt: skip
