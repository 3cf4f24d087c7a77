"""Where a request comes from, as far as it can be believed."""

from allauth.core.internal.httpkit import clean_client_ip, get_client_ip
from django.core.exceptions import ImproperlyConfigured
from django.http import HttpRequest

NOWHERE = "unknown"


def place_of(request: HttpRequest) -> str:
    """The address of the caller: of the proxies that STUDBAY_PROXIES counts, what the last says.

    A request that passed fewer of them has the address that it came from, whatever its header says.
    """
    try:
        found = get_client_ip(request)
    except ImproperlyConfigured:  # fewer proxies than there are: it came around them
        found = clean_client_ip(request.META.get("REMOTE_ADDR", ""))
    return found or NOWHERE
