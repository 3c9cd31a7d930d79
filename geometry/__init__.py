"""Garment geometry: lengths, curves, pieces, changes and checks, as values and pure functions."""
