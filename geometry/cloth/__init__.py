"""Cloth that is cut: the cutting line, and what can still be done within it."""
