"""Sheets: a pattern on paper, at true scale."""
