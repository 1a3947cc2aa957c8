"""The clocks of each pup. Catalogue: the table "Each pup"; what it leaves open is marked "page"."""

from judge.clocks import Chapter, Clock

_TERMS = """
    # Born in the sac, until opened (page: or anything that shows that it is off).
    sac_is_off := sac_open or airway or breathing or crying or well or died
    in_sac := (not sac_is_off) since born_in_sac
    # Limp or not breathing at birth (page: or, in its first hour, limp, gasping or blue).
    is_newborn := (once[0:{newborn.early}](born)) or not (once(born))
    # In one line with what is wrong, a good word takes nothing back.
    breathes := (breathing or crying or well or died) and not (breathless_sign or not_breathing)
    needs_help := born_limp or not_breathing or (breathless_sign and is_newborn)
    breathless := (not breathes) since needs_help
    # For the vet's look it needed help at whatever age; what is said of a pup that nobody has
    # written down changes nothing (page and cases).
    in_need := born_limp or not_breathing or breathless_sign
    calls_for_a_look := (in_need or died or born_dead) and (once(born))
    fed := (feed or milk or to_teat) and (once(born))
    fed_and_logged := feed and (once(born))
    # Its feeds are logged from the second one within half a day on (page); a day without any,
    # and they are so no longer.
    feed_again := fed_and_logged and (once[0.5:{logged.late}](feed))
    # A line in the same second is no second feed (the same one told twice, or with teat and
    # bottle), and no end of the log either.
    lone_feed := fed_and_logged and not (once[{tick}:{logged.late}](feed))
    given_up := historically[0:{given_up}](not fed)
    at_teat := (not fed_by_hand) since fed_at_teat
    gone := once((died or left_home or born_dead) and (once(born)))
    log_ends := lone_feed or given_up or (well and at_teat)
    feeds_logged := (not (gone)) and ((not log_ends) since feed_again)
    first_week := once[0:{week}](born)
    bleeds := (not (cord_done or died)) since cord_bleeding
    # A live birth, until milk or a feed at the teat (page: for two days at most).
    without_milk := (not (milk or fed_at_teat or died)) since born_alive
    thirsty := without_milk and (once[0:{milk_until}](born))
"""

PUPS = Chapter(
    {
        "newborn": ("not-breathing", "newborn-for"),
        "milk_until": ("first-milk", "until"),
        "logged": ("nursing-gap", "logged-within"),
        "given_up": ("nursing-gap", "given-up-after"),
        "week": ("nursing-gap", "until"),
    },
    _TERMS,
    (
        # Born in the sac, until opened.
        Clock("sac-on-pup", "main", "in_sac"),
        # Logged limp or not breathing, until it breathes.
        Clock("not-breathing", "main", "breathless"),
        # A bleeding cord, until tied or stopped.
        Clock("cord-bleeding", "main", "bleeds"),
        # A live birth, until milk or a teat feed.
        Clock("first-milk", "main", "thirsty"),
        # Week 1, only a pup whose feeds are logged; each feed begins it anew.
        Clock("nursing-gap", "main", "not (fed)", shows="feeds_logged and first_week"),
    ),
)  # fmt: skip
