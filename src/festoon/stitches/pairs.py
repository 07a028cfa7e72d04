"""Stitches told in pairs of bytes, where a marked pair brings further pairs that belong to it (exp, jef, vp3)."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

MARK = 0x80
"""A pair that begins with this byte is no way but a command."""


def pairs_of(data: bytes, start: int = 0) -> NDArray[np.uint8]:
    """(m, 2) whole pairs from byte `start` on."""
    body = np.frombuffer(data, np.uint8)[start:]
    return body[: len(body) // 2 * 2].reshape(-1, 2)


def heads(marked: NDArray[np.intp], length: int) -> NDArray[np.intp]:
    """Those of the marked pairs, in order, that belong to no earlier one, where each is `length` pairs long."""
    found, free = [], 0
    for k in marked.tolist():
        if k >= free:
            found.append(k)
            free = k + length
    return np.array(found, np.intp)
