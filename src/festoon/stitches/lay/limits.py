"""The shortest and the longest stitch that is laid."""

SHORTEST_STITCH = 1.0
"""mm; below it cloth and thread wear, for both holes share fibres (trade magazine, Feb 2016, p. 61; Dec 2016, p. 30).
Only the tips of columns, turns between rows and locking stitches are shorter."""
MAX_STITCH = 7.0
"""mm, the longest stitch for home machines and worn goods; longer ones are split. Common practice."""
LONGEST_SATIN = 9.0
"""mm; a longer satin stitch snags (trade magazine, Feb 2016, p. 61: 1 to 9 mm)."""
