"""Draw a hem anew, and what changes towards it."""
