"""Pieces that are drafted to a line, and follow it where it changes."""
