"""Blocks that come from a drawing: read safely, named edge by edge, never guessed at."""
