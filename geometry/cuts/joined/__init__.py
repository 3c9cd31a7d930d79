"""Pieces joined along a seam into one: the reverse of a cut."""
