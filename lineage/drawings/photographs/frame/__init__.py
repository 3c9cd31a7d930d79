"""The frame of markers: how it is printed, found in a picture, and what it tells of the table."""
