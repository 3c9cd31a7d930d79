"""Where the wardrobe stands: names, logs, settings, and git's list of the files."""
