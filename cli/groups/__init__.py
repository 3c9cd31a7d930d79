"""Groups of commands: the verbs, and the kinds of change under a verb."""
