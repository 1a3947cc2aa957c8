"""The account in open forms for other programs: CSV tables, JSON with its schema."""
