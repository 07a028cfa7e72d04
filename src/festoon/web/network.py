"""Which addresses this machine has in its local network."""

from __future__ import annotations

import socket
from contextlib import suppress
from ipaddress import IPv4Address

import ifaddr

from festoon.errors import FestoonError

ELSEWHERE = ("192.0.2.1", 9)
"""An address that belongs to nobody (RFC 5737, TEST-NET-1). Nothing is sent there: the system is only asked by which
of its own addresses it would go."""


def own_addresses() -> tuple[str, ...]:
    """This machine's IPv4 addresses in the networks it is connected to, the one by which it goes out first.

    Raises FestoonError where it is in none.
    """
    all_of_them = [ip.ip for adapter in ifaddr.get_adapters() for ip in adapter.ips if isinstance(ip.ip, str)]
    found = ordered(all_of_them, _outward())
    if not found:
        raise FestoonError(
            "this machine is in no network that another device could reach it by.",
            remedy="Connect it, or leave out --share.",
        )
    return found


def ordered(addresses: list[str], first: str | None) -> tuple[str, ...]:
    """Those that other devices may reach, each once, `first` in front, those that a machine gave itself last.

    >>> ordered(["127.0.0.1", "169.254.3.4", "10.0.0.2", "192.168.1.5"], "192.168.1.5")
    ('192.168.1.5', '10.0.0.2', '169.254.3.4')
    """
    reached = [a for a in dict.fromkeys(addresses) if not IPv4Address(a).is_loopback]
    return tuple(sorted(reached, key=lambda a: (a != first, IPv4Address(a).is_link_local)))


def _outward() -> str | None:
    with suppress(OSError), socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        asking.connect(ELSEWHERE)
        return str(asking.getsockname()[0])
    return None
