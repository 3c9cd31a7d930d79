"""Arguments and options of the verbs, and how what a maker types is taken."""
