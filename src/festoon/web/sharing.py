"""The table shared with other devices in the local network: one-time codes, and the devices that they let in."""

from __future__ import annotations

import hmac
import secrets
import threading
import time
from collections import deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from urllib.parse import urlencode

from festoon.errors import FestoonError

LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
"""Of a code: 31 letters and digits that nobody takes for another (no i, l, o, 0, 1)."""

CODE_LENGTH = 8
"""31**8 = 8.5e11 codes (computed). Against one code at most WRONG guesses a minute for CODE_MINUTES can be made, 100 in
all: it is found once in 8.5e9 such attacks. One who guesses day and night for a year, 5.3e6 times, against code after
code, gets in with a chance of 6 in a million."""

CODE_MINUTES = 10.0
"""That a code may be used: long enough to fetch the tablet (own choice)."""

WRONG, WITHIN = 10, 60.0
"""Wrong codes in so many seconds, after which none is looked at until they are over, a right one neither."""

SHARE = "/share/"
"""Where a device types its code."""

TOKEN_BYTES = 32
"""Of chance in a device's token: more than can be tried."""


class NotShared(FestoonError):
    """The table is not shared, or not with this device."""


class TooManyWrong(FestoonError):
    """Codes are not looked at for a while."""


@dataclass(frozen=True, slots=True)
class Code:
    """A code that lets one device in until `ends` (seconds of the clock)."""

    text: str
    ends: float

    @property
    def told(self) -> str:
        """As it is shown, 'k7mp-x2qd'."""
        half = CODE_LENGTH // 2
        return f"{self.text[:half]}-{self.text[half:]}"


class Sharing:
    """Who else is at the table. Safe to use from several threads; it keeps no code and no token on the disk.

    addresses: this machine's own in the network, the likeliest first. clock: seconds that only grow.
    """

    def __init__(self, addresses: Iterable[str], clock: Callable[[], float] = time.monotonic) -> None:
        self.addresses = tuple(addresses)
        self._clock = clock
        self._lock = threading.Lock()
        self._code: Code | None = None
        self._guests: list[str] = []
        self._wrong: deque[float] = deque()

    @property
    def devices(self) -> int:
        """How many were let in."""
        with self._lock:
            return len(self._guests)

    @property
    def code(self) -> Code | None:
        """The code that lets the next device in, a new one where the last has been used or has ended; None after
        sharing was ended."""
        with self._lock:
            if self._code is not None and self._clock() >= self._code.ends:
                self._code = self._fresh()
            return self._code

    def minutes_left(self, code: Code) -> float:
        """How long a code may still be used."""
        return max(0.0, code.ends - self._clock()) / 60.0

    def enter(self, typed: str) -> str:
        """A token of its own for the device that typed the code, which is used up with it.

        Raises NotShared for a code that is wrong, used or ended, and TooManyWrong after too many of those.
        """
        with self._lock:
            now = self._clock()
            while self._wrong and now - self._wrong[0] >= WITHIN:
                self._wrong.popleft()
            if len(self._wrong) >= WRONG:
                raise TooManyWrong("too many wrong codes were tried.", remedy="Wait a minute, then try again.")
            if not self._fits(typed, now):
                self._wrong.append(now)
                raise NotShared(
                    "this code lets nobody in. Each lets one device in, and only for some minutes.",
                    remedy="Look at the code that the other screen shows now.",
                )
            self._code = self._fresh()
            token = secrets.token_urlsafe(TOKEN_BYTES)
            self._guests.append(token)
            return token

    def knows(self, tokens: Iterable[str]) -> bool:
        """Whether the token of a device that was let in is among these."""
        with self._lock:
            pairs = [(t.encode(), g.encode()) for t in tokens for g in self._guests]
        same = [hmac.compare_digest(one, other) for one, other in pairs]  # all of them, so that time tells nothing
        return any(same)

    def begin(self) -> Code:
        """Make a new code; the last one ends."""
        with self._lock:
            self._code = code = self._fresh()
        return code

    def end(self) -> None:
        """Send every device away, and let none in until `begin`."""
        with self._lock:
            self._code = None
            self._guests.clear()

    def _fresh(self) -> Code:
        text = "".join(secrets.choice(LETTERS) for _ in range(CODE_LENGTH))
        return Code(text, self._clock() + 60.0 * CODE_MINUTES)

    def _fits(self, typed: str, now: float) -> bool:
        code = self._code
        if code is None or now >= code.ends:
            return False
        return hmac.compare_digest(plain(typed).encode(), code.text.encode())


def plain(typed: str) -> str:
    """A code as it is kept, however it was typed.

    >>> plain(" K7MP x2-qd ")
    'k7mpx2qd'
    """
    return "".join(typed.split()).replace("-", "").lower()


def way_in(address: str, port: int, code: Code, piece: str | None = None) -> str:
    """What a device opens: the code stands behind #, so that no server and no log ever sees it in an address.

    >>> way_in("192.168.1.5", 8123, Code("k7mpx2qd", 0.0), "0a1b")
    'http://192.168.1.5:8123/share/?piece=0a1b#k7mpx2qd'
    """
    shown = f"?{urlencode({'piece': piece})}" if piece else ""
    return f"{door_of(address, port)}{SHARE}{shown}#{code.text}"


def door_of(address: str, port: int) -> str:
    """The beginning of every address at this machine."""
    return f"http://{address}:{port}"
