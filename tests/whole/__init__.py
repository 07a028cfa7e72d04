"""Whole pieces, from their folder to what is made of them: by the library and by the command line."""
