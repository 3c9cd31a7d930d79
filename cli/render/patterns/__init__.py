"""What is told of one pattern: its seams, findings, origins, sheets, and how it differs."""
