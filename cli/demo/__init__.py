"""The sample wardrobe's story: read, played, told."""
