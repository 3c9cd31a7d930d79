"""Steps on blocks and patterns but for a correction that is tried, and taking one back."""
