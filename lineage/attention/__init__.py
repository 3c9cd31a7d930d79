"""What needs attention in a wardrobe now, and what became of the last correction by now."""
