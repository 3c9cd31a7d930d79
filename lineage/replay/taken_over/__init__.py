"""What a node takes over with the style of another: by which way, and how it is judged."""
