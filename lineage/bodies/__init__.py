"""What is known of wearers' bodies: recording what is measured, and which blocks follow it."""
