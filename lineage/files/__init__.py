"""The files of a wardrobe: what they hold, how they are read and written, their graph."""
