"""Read what is there: how it is, how it came to be, what waits."""
