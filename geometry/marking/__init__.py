"""Where marks lie, and how they come to the parts of a piece that is cut and back."""
