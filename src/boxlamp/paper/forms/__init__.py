"""One document in four forms: text, Markdown, HTML, PDF. Nothing here knows about whelping."""
