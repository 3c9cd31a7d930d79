"""Pieces of a draft: their edges, darts, corners and allowances, and lines worked on as sewn."""
