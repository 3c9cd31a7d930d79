"""The side seam and the hem: wider, longer, and walked equal."""
