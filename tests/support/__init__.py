"""Tools the tests share."""
