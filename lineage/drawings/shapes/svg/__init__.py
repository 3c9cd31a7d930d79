"""Shapes of an SVG drawing, as any editor of vector drawings writes it."""
