"""Pieces cut in two along a style line: their parts, and the whole that they are as sewn."""
