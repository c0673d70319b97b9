"""Nobody watches or marks themselves: said when the page is opened, before anything is tapped."""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import Any

from django.http import HttpResponse
from django.shortcuts import render

from assessments.wording_refusals import say
from barcourse.people.access import HouseRequest
from barcourse.people.reasons import Reason

View = Callable[..., HttpResponse]


def of_somebody_else(view: View) -> View:
    """For a view that gets the `hire` who is watched; below its access rule."""

    @functools.wraps(view)
    def guarded(request: HouseRequest, hire: str, **kwargs: Any) -> HttpResponse:
        if hire == request.membership.code:
            said = say(Reason.of("nobody_signs_for_themselves"))
            return render(request, "assessments/oneself.html", {"said": said}, status=403)
        return view(request, hire=hire, **kwargs)

    return guarded
