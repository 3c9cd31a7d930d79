"""The fields by which a step on a block or pattern is asked for."""
