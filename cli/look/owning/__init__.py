"""The one thread that owns the wardrobe, and what it keeps at hand."""
