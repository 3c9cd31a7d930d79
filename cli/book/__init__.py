"""The book: a wardrobe as pages to leaf through, in one HTML file that needs nothing else.

A view is one page, made from what the wardrobe says and addressed as `pattern/NAME`; a document
holds them all, packed. Whatever shows a book, a file or a page served on this machine, asks
`views.view` for what it shows.
"""
