"""Pictures of an open wardrobe: its conflicts, its cloth, two versions compared."""
