"""Marks that lie beyond the end of their line, which became too short for them."""
