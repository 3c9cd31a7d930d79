"""A change brought to all that inherits it: verdicts, conflicts, remedies."""
