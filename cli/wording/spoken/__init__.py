"""What a maker calls things: kinds of change, places on a line."""
