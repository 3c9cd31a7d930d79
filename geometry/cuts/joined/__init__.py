"""Two pieces joined along a seam into one, and told of as two."""
