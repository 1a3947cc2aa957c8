"""The command line: one short module per command, and one object that owns all output.

Nothing heavy is imported here. A command's module is imported when that command is called, so
that writing one line at the box costs no more than the libraries it stands on.
"""

from boxlamp.cli.shell import main

__all__ = ["main"]
