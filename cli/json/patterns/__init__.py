"""What is read of patterns, as JSON documents: lengths in mm."""
