"""A small piece on the disk: three patches in a row that overlap a little, each a hooping of its own.

They begin in their middle, so that the shortest way of the needle check turns on where the cloth lies.
"""

from pathlib import Path

from shapely import box

from festoon.stitches import Thread, encode, from_points, joined
from festoon.stitches.lay import fill
from tests.truing.toy import spiral

PATCHES = (70, 128, 186)
"""Where the middles of the patches lie; each is 60 mm wide, so they overlap by 2 mm."""

PIECE = """
piece = {{ name = "Row", units = "{units}" }}
[[panel]]
name = "cloth"
size = [260, 160]
{elements}
"""
ELEMENT = '[[element]]\nkind = "motif"\nname = "patch {n}"\nfile = "motifs/patch.dst"\nat = [{x}, 80]\n'


def new_row(folder: Path, units: str = "mm", format: str = "dst") -> Path:
    """Write it; the field is 110 mm square."""
    (folder / "motifs").mkdir(parents=True)
    thread = Thread("#c8412f")
    patch = joined([from_points(spiral(), thread), fill(box(-30, -30, 30, 30), angle=0, row=1.0, thread=thread)])
    (folder / "motifs" / "patch.dst").write_bytes(encode(patch, "dst"))
    elements = "".join(ELEMENT.format(n=n, x=x) for n, x in enumerate(PATCHES, start=1))
    (folder / "piece.toml").write_text(PIECE.format(units=units, elements=elements), "utf-8")
    bench = f'[machine]\nformat = "{format}"\n[[hoop]]\nname = "small"\nfield = [110, 110]\n'
    (folder / "bench.toml").write_text(bench, "utf-8")
    return folder
