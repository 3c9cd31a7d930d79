"""Wardrobes: the graph of patterns, its files and history, replay and conflicts."""
