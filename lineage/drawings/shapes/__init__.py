"""What any source of a drawing comes to: lines in mm on a page, and the texts that lie by them."""
