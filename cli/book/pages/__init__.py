"""The pages of a book, each made from the wardrobe as it is."""
