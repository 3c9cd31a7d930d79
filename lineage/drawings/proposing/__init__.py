"""What the lines of a drawing look like: proposed to the maker, and settled by what he states."""
