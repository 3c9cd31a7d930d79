"""The verbs, one a file."""
