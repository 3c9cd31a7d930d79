"""What every drafted bodice has: waist, shoulder dart, neck, armhole, marks, sleeve and seams."""
