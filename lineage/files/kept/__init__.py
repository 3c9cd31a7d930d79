"""What is kept of a whole wardrobe, so that opening it again reads none of its files."""
