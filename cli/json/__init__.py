"""Every answer as a JSON document, lengths in mm."""
