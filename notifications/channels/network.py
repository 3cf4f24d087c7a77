"""Where a request may go: not into the network that this machine stands in.

Which networks of its own a site reaches is for whoever runs the server to say
(`STUDBAY_PRIVATE_NETWORKS`), never for a shop.
"""

import socket
import threading
from dataclasses import dataclass
from ipaddress import IPv4Address, IPv6Address, IPv6Network, ip_address
from typing import Any

from django.conf import settings

from notifications.messages import sending

from .base import DeliveryRefused, Later

Ip = IPv4Address | IPv6Address

UNICAST = IPv6Network("2000::/3")
"""What IANA gave out as global unicast; requests go nowhere else in IPv6 (RFC 4291, 2.4)."""
TRANSLATED = IPv6Network("64:ff9b::/96")
"""IPv4 as a translator writes it (RFC 6052); what it leads to is the IPv4 address within."""
MOST_ADDRESSES = 8
"""Of one name; whoever gives more is looked at no further than that."""


@dataclass(frozen=True, slots=True)
class ResolvedAddress:
    """An address that was looked at, and may be connected to."""

    family: int
    address: tuple[Any, ...]
    """As the system's own call takes it."""
    own: bool
    """Whether it is in a network that the server's settings allow."""


def resolve(host: str, port: int, seconds: float) -> list[ResolvedAddress]:
    """The addresses to connect to for a host name, asked for once.

    Raises Refused when any of them is in a private network that the server's settings do not
    allow, Later when the name is not known now. The caller connects to these and to no other, so
    that a name which changes its mind in between leads nowhere else.
    """
    found = _look_up(host, port, seconds)
    places = []
    for family, _, _, _, address in found[:MOST_ADDRESSES]:
        places.append(_place(host, family, address))
    if not places:
        raise Later(sending.NO_ADDRESS(host=host))
    return places


def _place(host: str, family: int, address: tuple[Any, ...]) -> ResolvedAddress:
    ip = ip_address(str(address[0]).partition("%")[0])
    own = is_own(ip)
    if not own and not is_open(ip):
        raise DeliveryRefused(sending.PRIVATE(host=host, address=str(ip)))
    return ResolvedAddress(family, address, own)


def _look_up(host: str, port: int, seconds: float) -> list[Any]:
    """What the system's resolver says, which knows no time limit of its own."""
    kept: list[Any] = []
    faults: list[Exception] = []

    def ask() -> None:
        try:
            kept.extend(socket.getaddrinfo(host, port, type=socket.SOCK_STREAM))
        except (OSError, UnicodeError) as error:  # a label too long is no OSError
            faults.append(error)

    asking = threading.Thread(target=ask, daemon=True)
    asking.start()
    asking.join(seconds)
    if asking.is_alive():
        raise Later(sending.NO_RESOLVER(host=host))
    for fault in faults:
        raise Later(sending.NOT_FOUND(host=host, answer=str(fault))) from None
    return kept


def is_own(ip: Ip) -> bool:
    """Whether the server's settings allow it, as it is written or as the IPv4 within."""
    networks = settings.ENVIRONMENT.studbay_private_networks
    meant = within(ip)
    for each in {ip, meant}:
        for network in networks:
            if each in network:
                return True
    return False


def is_open(ip: Ip) -> bool:
    """Whether it is of the open network, by IANA's special-purpose registries (RFC 6890)."""
    meant = within(ip)
    if isinstance(meant, IPv6Address) and meant not in UNICAST:
        return False
    return meant.is_global and not meant.is_multicast and not meant.is_reserved


def within(ip: Ip) -> Ip:
    """The IPv4 address that one of IPv6 leads to: mapped, translated or by 6to4."""
    if isinstance(ip, IPv4Address):
        return ip
    if ip in TRANSLATED:
        return IPv4Address(int(ip) & 0xFFFFFFFF)
    return ip.ipv4_mapped or ip.sixtofour or ip
