"""The afterbirth rules. Catalogue: the table "Afterbirths"; what it leaves open says "page"."""

from judge.clocks import Chapter, Clock

OWED = Chapter(
    {},
    "",
    (
        # One clock per pup, from its birth until its afterbirth is answered for.
        Clock("afterbirth-owed", "main", "owes"),
    ),
)

_TERMS = """
    push := strong or weak
    owes_any := owed >= 0.5
    since_birth := (not birth) and (once(birth))
    # Finished is typed, or the count (page: by x-ray or scan) is born and she rests: a rest
    # is written down, or (page) nothing has come for an hour.
    called_finished := (not birth) since finished
    reached := (by_xray or by_scan) and (pups_born + 0.5 >= pups_expected)
    comes := push or birth or waters or sac or part
    rests := ((not comes) since rest) or (historically[0:{calm}](not comes))
    # Called finished too early (page): after one more birth, rest or calm is enough to end it.
    looks_over := (called_finished or ((reached or (once(finished))) and rests)) and
            (once(birth))
    # What was looked for and not seen may still be in her, until a vet has seen her after
    # the last pup or called her finished (page).
    vet_has_looked := (not birth) since (vet_looked or finished_by_vet)
    unseen_any := (unseen >= 0.5) and not (vet_has_looked)
    # At once when she also seems ill.
    # In one line with dullness a good word takes nothing back; yellow alone is not meant here.
    is_well := (bright or recovered) and not (dull)
    is_dull := (not is_well) since dull
    is_foul := (not (neither_foul_nor_pus)) since foul_or_pus
    strains := (not (birth or is_well)) since (push and called_finished)
    # Green beyond a day: written down then, for in the first hours it is ordinary.
    green_late := (not (birth or no_discharge or other_than_green)) since
            (green and (once(birth)) and (historically[0:{green_after.early}](not birth)))
    is_ill := feverish or is_dull or is_foul or strains or green_late
"""

AFTERBIRTHS = Chapter(
    {
        "many": ("afterbirths-behind", "how-many"),
        "calm": ("afterbirth-missing-at-end", "calm"),
        "green_after": ("afterbirth-missing-at-end", "green-after"),
    },
    _TERMS,
    (
        # So many are owed at the same time.
        Clock("afterbirths-behind", "main", "owed + 0.5 >= {many}"),
        # The whelping looks over and one is owed: from the last birth on.
        Clock("afterbirth-missing-at-end", "main", "since_birth", shows="looks_over and owes_any"),
        Clock("afterbirth-missing-at-end", "ill",
              "looks_over and (owes_any or unseen_any) and is_ill"),
        # More afterbirths than births.
        Clock("afterbirth-surplus", "main", "spare >= 0.5"),
    ),
)  # fmt: skip
