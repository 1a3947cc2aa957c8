"""What stands at the top of a page that is written whole from the program."""

NOTE = "<!-- Written by docs/generate.py from the program; do not edit. -->"
