"""What any picture is made of, and how it is written."""
