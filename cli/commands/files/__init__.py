"""Write a file to keep or to send: a drawing, a sheet, the book, an audit."""
