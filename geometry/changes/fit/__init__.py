"""Kinds that alter a piece for a body, from which many corrections are made up."""
