"""Parts of a piece turned about a point: a dart closed and opened elsewhere, strips spread."""
