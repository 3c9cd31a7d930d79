"""The sleeve: its cap, and how wide it is."""
