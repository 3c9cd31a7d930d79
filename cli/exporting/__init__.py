"""The files a pattern is exported to, one module a format; `formats` lists them by extension."""
