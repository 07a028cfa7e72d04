"""A band of lace laid on a made-up hem, for the tests of what it is made of."""

from festoon.techniques.course import course_of
from festoon.techniques.lace_band import work
from festoon.techniques.lace_shapes import drawings, repeats, strips
from festoon.techniques.lace_words import LaceBand

from .toy import setting

HEM = "M 50 200 H 1150"
"""1100 mm, straight."""

FLARED = "M 50 300 A 900 900 0 0 1 950 300"
"""An arc of 942 mm."""

BIG = (1200.0, 400.0)


def lace(**words):
    return LaceBand(kind="lace band", name="lace", **{"along": "hem", **words})


def on(one, line=HEM, loops=()):
    """Its work on a large panel."""
    return work(one, setting(size=BIG, loops=loops, hem=line))


def laid(one, line=HEM, loops=()):
    """Its strips alone."""
    course = course_of(one, setting(loops=loops, hem=line))
    out = repeats(one, course)
    return strips(one, drawings(one, course, out.places if out else ()))


def rules(done):
    return {f.rule for f in done.findings}


def found(done, rule):
    (finding,) = [f for f in done.findings if f.rule == rule]
    return finding
