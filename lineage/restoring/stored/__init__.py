"""What is stored: which of it is sound, and how the rest is found again."""
