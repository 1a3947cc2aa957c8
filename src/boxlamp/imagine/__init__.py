"""Imagined nights: whelpings drawn from published figures, normal and troubled, by a seed."""
