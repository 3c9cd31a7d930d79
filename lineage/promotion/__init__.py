"""Move a correction from the pattern it was made on up to the ancestor where the fault lives."""
