"""Cloth and lace shaped by arithmetic: bands and their headings, mitres, scallops, gathers, tucks.

Pure geometry in mm on the panel's axes; it knows paths, and nothing of pieces or techniques.
"""
