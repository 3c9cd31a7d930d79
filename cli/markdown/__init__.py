"""Pages in Markdown, to be kept or sent."""
