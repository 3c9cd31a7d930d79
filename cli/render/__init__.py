"""What the commands print: values in, text to print out."""
