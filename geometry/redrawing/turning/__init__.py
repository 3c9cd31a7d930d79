"""Turn a part of a piece about a point: darts closed and opened elsewhere, wedges folded out."""
