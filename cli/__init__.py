"""The trueup command: one call into lineage or geometry, one rendering of what came back."""
