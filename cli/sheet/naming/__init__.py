"""What is written on a piece, and where it overlaps nothing: its label, names of lines, letters."""
