"""Make a step, change it, decide what came of it."""
