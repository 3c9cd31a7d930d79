"""How a page is fitted to the terminal it is read on: its signs, its lines, how far a wait is."""
