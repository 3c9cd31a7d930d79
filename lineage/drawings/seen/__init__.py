"""What is seen in a drawing: pieces, their corners and darts, and what lies on them, numbered."""
