"""Turn parts of a piece about a point: darts opened elsewhere, wedges folded out, strips spread."""
