"""Where a request may go: not into the network that this machine stands in, unless allowed."""

import socket
from ipaddress import IPv6Address, ip_address

from .base import Later, Refused


def reachable(host: str, port: int, *, private: bool) -> str:
    """The IP address to connect to for a host name.

    Raises Refused when it leads to a private address and the shop has not allowed that, Later
    when the name is not known now. The caller connects to the address and to no other, so that
    a name which changes its mind in between leads nowhere else.
    """
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)
    except OSError as error:
        raise Later(f"{host} cannot be found: {error}") from None
    addresses = [str(each[4][0]) for each in found]
    if not private:
        for address in addresses:
            ip = ip_address(address.partition("%")[0])
            if isinstance(ip, IPv6Address) and ip.ipv4_mapped:
                ip = ip.ipv4_mapped
            if not ip.is_global or ip.is_multicast:
                raise Refused(
                    f"{host} is {address}, an address of a private network; "
                    "the office can allow those in the shop's notice rules"
                )
    return addresses[0]
