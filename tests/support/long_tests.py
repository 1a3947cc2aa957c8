"""Tests that take many seconds and walk nothing that quicker ones beside them do not."""

LONG = (
    "tests/rules/test_purity.py::test_no_rule_looks_ahead",
    "tests/rules/test_weight_rules.py::test_no_weight_rule_looks_ahead",
    "tests/rules/test_newborn_streams.py::test_no_rule_about_the_pups_looks_ahead",
    "tests/engine/test_known.py::test_the_short_way_says_the_same",
    "tests/language/test_night_files.py::test_a_hostile_file_is_read_in_time",
)
"""Left out where lines are counted or broken, which makes every test several times longer."""
