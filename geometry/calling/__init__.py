"""What pieces are called: the name that is their own, and another that a maker gave them."""
