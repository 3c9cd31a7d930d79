"""Seams between pieces, and pieces that a seam made one."""
