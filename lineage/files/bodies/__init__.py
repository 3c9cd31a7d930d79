"""Bodies as a wardrobe keeps them: dated sets of measurements of its wearers."""
