"""The weeks before and after: when she is due, what is to be ready when, what follows the birth.

``dates`` weighs every basis that the day can be counted from, ``plan`` and ``follow`` turn it
into days, ``kit`` is the preparation list, ``calendar`` the file for a calendar. Pure: the story
and the protocol are handed in.
"""
