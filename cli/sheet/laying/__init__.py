"""Pieces laid out on paper, and the paper cut into pages."""
