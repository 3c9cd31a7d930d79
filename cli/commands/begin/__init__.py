"""Begin: a wardrobe, a block, a pattern derived from it."""
