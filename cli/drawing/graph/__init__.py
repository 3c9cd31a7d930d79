"""The graph of a wardrobe as a picture: where all stands, the lines between, and their key."""
