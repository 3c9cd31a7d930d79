"""Kinds that open a piece, leave one out, or mark it."""
