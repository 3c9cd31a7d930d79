"""Blocks that are drafted anew, from other measurements: how, and what becomes of it below."""
