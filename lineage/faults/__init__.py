"""Where a fault lives: the lines of a place, where they come from, and who shares them."""
