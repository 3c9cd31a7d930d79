"""What a page is drawn with: pens, letters, hatches, blocks of text."""
