"""Files on the disk: which names a wardrobe takes, and how they are read and replaced."""
