"""Fit notes on the live page: what the forms offer that write one down, or say what mended it."""
