"""What is marked on a piece, as values: marks inside it, turned corners, what it is cut from."""
