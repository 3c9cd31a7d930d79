"""Take up the work of an editor or another maker, and put a wardrobe right."""
