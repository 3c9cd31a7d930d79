"""The live page: a wardrobe's book served on this machine alone, in which steps are tried.

`serving` opens it and says when it ends. What comes in passes `safety`; what is asked for by one
who may ask is an action (`actions`, a file each), carried out by the one thread that owns the
wardrobe (`owning`). Pages are the views of the book; `trying` makes what only a live page has.
"""
