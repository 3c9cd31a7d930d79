"""What is known of faults of fit."""
