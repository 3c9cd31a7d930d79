"""What is told of garments, their fit notes, their cloth and their faults."""
