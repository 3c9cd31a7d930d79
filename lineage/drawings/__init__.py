"""Drawings in SVG: read safely, written, traced into a draft."""
