"""What is asked for on the page of a garment."""
