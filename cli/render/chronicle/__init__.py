"""What is told of the history."""
