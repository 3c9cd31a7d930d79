"""Make one side of a piece longer or shorter than the other, as a figure asks for it."""
