"""Demo mode's promise that it answers on this machine alone."""

from collections.abc import Callable

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse

from barcourse.environment import is_loopback


class LoopbackOnlyMiddleware:
    """Refuses a caller from another machine, even where the server listens to the network.

    The demo house has published sign-ins and a published key.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if not is_loopback(request.META.get("REMOTE_ADDR", "")):
            raise PermissionDenied
        return self.get_response(request)
