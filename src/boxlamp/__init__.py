"""Boxlamp: a whelping log and alert engine for the command line."""

__version__ = "0.1.0"
