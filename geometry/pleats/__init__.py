"""Pleats: where they lie on a piece, and the piece as its cloth is cut, with them laid open."""
