"""A size run: a block drafted for each row of a size table, and a style grafted onto each."""
