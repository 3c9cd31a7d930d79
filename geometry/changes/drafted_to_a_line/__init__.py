"""Kinds that draft a new piece to a line it is sewn to."""
