"""Frozen nouns of the trade and plane geometry; no calculation across records, no files."""
