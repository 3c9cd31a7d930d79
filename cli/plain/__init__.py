"""Commands in plain words: help pages without ornaments, and arguments as they were typed."""
