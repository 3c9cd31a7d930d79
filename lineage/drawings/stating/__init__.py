"""What a maker states of a drawing, the file he states it in, and the draft that comes of it."""
