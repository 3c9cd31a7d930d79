"""Left and right: drafts that are one for both sides of the body, and drafts that are not."""
