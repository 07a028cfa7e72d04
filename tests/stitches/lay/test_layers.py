"""Every layer of stitches on the same paths: straight, bent, curved, closed, shortest."""

import numpy as np
import pytest

from festoon.plane import Pose, arc_through, circle, polyline, through
from festoon.stitches.lay import bean, double_run, lock, run, satin, satin_between, zigzag
from festoon.stitches.lay.limits import MAX_STITCH
from festoon.stitches.thread import Thread

THREAD = Thread("#204080")
PATHS = {
    "straight": polyline([[0, 0], [50, 0]]),
    "bent": polyline([[0, 0], [21, 0], [20, 20], [50, 31]]),
    "hairpin": polyline([[0, 0], [20, 0], [0, 0.5]]),
    "there and back": polyline([[0, 0], [20, 0], [0, 0]]),
    "arc": arc_through([0, 0], [30, 0], 8),
    "curve": through([[0, 0], [20, -10], [45, 12], [60, 0]]),
    "circle": circle([5, 5], 12),
    "square": polyline([[0, 0], [31, 0], [31, 30], [0, 30]], closed=True),
    "shortest": polyline([[0, 0], [0.01, 0]]),
}
PUSHED = Pose(0, 4)
LAYERS = {
    "run": run,
    "double run": double_run,
    "bean": bean,
    "satin": lambda path, thread: satin(path, 3.0, thread=thread),
    "wide satin": lambda path, thread: satin(path, 11.0, thread=thread, underlay="edge"),
    "tapered satin": lambda path, thread: satin(path, lambda f: 3 * f * (1 - f), thread=thread, underlay="centre"),
    "zigzag": lambda path, thread: zigzag(path, 2.0, thread=thread),
    "between": lambda path, thread: satin_between(path, path.placed(PUSHED), thread=thread, underlay="edge"),
    "locked": lambda path, thread: lock(run(path, thread=thread)),
}


@pytest.mark.parametrize("path", PATHS.values(), ids=PATHS.keys())
@pytest.mark.parametrize("layer", LAYERS.values(), ids=LAYERS.keys())
def test_every_layer_on_every_path(layer, path):
    stitching = layer(path, thread=THREAD)
    assert np.isfinite(stitching.points).all()
    assert stitching.runs() == [(0, len(stitching))]  # sewn without a cut
    assert stitching.threads == (THREAD,)
    assert stitching.stitch_count >= 2
    assert stitching.laid_lengths().max() <= MAX_STITCH
    reach = np.hypot(*(stitching.holes[:, None] - path.sample(0.5)).transpose(2, 0, 1)).min(axis=1)
    assert reach.max() <= 9.0
    assert layer(path, thread=THREAD).points.tobytes() == stitching.points.tobytes()
