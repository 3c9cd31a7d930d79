"""What the lines of a drawing seem to be: proposed to the maker, who takes or corrects it."""
