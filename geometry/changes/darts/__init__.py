"""Darts: take in more, turn elsewhere, stop short of the apex, leave unsewn."""
