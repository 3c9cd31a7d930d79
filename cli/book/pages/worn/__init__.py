"""Pages of what was cut and worn: garments, their notes, and the faults they share."""
