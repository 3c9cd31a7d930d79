"""The neck line, the shoulder seam, and where they end."""
