"""A form sent twice counts once.

Every form carries a key (`{% form_key %}`). The first answer that is a redirect is kept under the
key, in the transaction of what the form did. The same form sent again gets that redirect and
changes nothing; the same key with anything else in it is refused. An answer that is no redirect
(the form shown again with what is wrong) undoes whatever was written, the key too, so the
corrected form may carry it once more.

What takes long to read is read first, in no transaction (`once_read`): nobody waits for it.
"""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TypeVar

from django.core.exceptions import BadRequest
from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.http.response import HttpResponseRedirectBase
from django.utils import timezone
from django.utils.crypto import salted_hmac

from .device import device_of
from .error_pages import sent_already
from .models import Person, SentForm
from .sealed import canonical

_NOT_PART_OF_THE_BODY = {"csrfmiddlewaretoken", "form_key", "form_by"}
Answer = Callable[[], HttpResponse]
R = TypeVar("R")


def once(request: HttpRequest, answer: Answer) -> HttpResponse:
    """The answer to this POST, made at most once for its key. Raises BadRequest without a key."""
    sent = _sent(request)
    with transaction.atomic():
        if not _claim(sent):
            return _replay(request, sent)
        response = answer()
        if _is_kept(response):
            SentForm.objects.filter(pk=sent.pk).update(location=response["Location"])
        else:
            transaction.set_rollback(True)
    _run_afterwards(request)
    return response


def once_read(
    request: HttpRequest, read: Callable[[], HttpResponse | R], answer: Callable[[R], HttpResponse]
) -> HttpResponse:
    """As `once`, with what `read` found as what `answer` is made from. `read` writes nothing and
    is not asked about a form sent already; a page that it returns, no redirect, is the answer."""
    if _is_answered(request):
        return _replay(request, _sent(request))
    found = read()
    if not isinstance(found, HttpResponse):
        return once(request, lambda: answer(found))
    if _is_answered(request):  # by another one of the same, meanwhile
        return _replay(request, _sent(request))
    _run_afterwards(request)
    return found


def _is_answered(request: HttpRequest) -> bool:
    return SentForm.objects.filter(key=_key(request)).exists()


def afterwards(request: HttpRequest, write: Callable[[], object]) -> None:
    """Have something written whether or not the form comes to anything (a wrong password)."""
    request.__dict__.setdefault("_afterwards", []).append(write)


def _run_afterwards(request: HttpRequest) -> None:
    for write in request.__dict__.pop("_afterwards", []):
        write()


@contextmanager
def held_back(keys: Iterable[uuid.UUID]) -> Iterator[bool]:
    """Whether none of these forms has been sent. Inside, nobody sends one of them: whoever does
    waits until the transaction around is over. Call it in one, as its last step."""
    rows = [SentForm(key=key, device="", body_digest="", at=timezone.now()) for key in sorted(keys)]
    free = all(_claim(row) for row in rows)
    yield free
    SentForm.objects.filter(pk__in=[row.pk for row in rows if row.pk]).delete()


def _key(request: HttpRequest) -> uuid.UUID:
    try:
        return uuid.UUID(request.POST.get("form_key", ""))
    except ValueError:
        raise BadRequest("A form without its key.") from None


def _sent(request: HttpRequest) -> SentForm:
    return SentForm(
        key=_key(request),
        person=request.user if isinstance(request.user, Person) else None,
        device=device_of(request),
        body_digest=_digest(request),
        at=timezone.now(),
    )


def _claim(sent: SentForm) -> bool:
    """True for whoever comes first. Two at once: the second waits here until the first is done
    (on SQLite at the start of the transaction, on PostgreSQL at the unique key)."""
    try:
        with transaction.atomic():
            sent.save(force_insert=True)
    except IntegrityError:
        return False
    return True


def _replay(request: HttpRequest, sent: SentForm) -> HttpResponse:
    first = SentForm.objects.get(key=sent.key)
    same_sender = first.device == sent.device or (
        sent.person_id is not None and first.person_id == sent.person_id
    )
    if same_sender and first.body_digest == sent.body_digest:
        return HttpResponseRedirect(first.location)
    return sent_already(request)


def _digest(request: HttpRequest) -> str:
    """Keyed with the secret of the site: a body may hold a password."""
    fields = [
        (name, values)
        for name, values in sorted(request.POST.lists())
        if name not in _NOT_PART_OF_THE_BODY
    ]
    files = [(name, _digest_of_files(request, name)) for name in sorted(request.FILES)]
    body = canonical([request.path, fields, files])
    return salted_hmac("people.once", body, algorithm="sha256").hexdigest()


def _digest_of_files(request: HttpRequest, name: str) -> list[str]:
    digests = []
    for file in request.FILES.getlist(name):
        digests.append(salted_hmac("people.once", file.read(), algorithm="sha256").hexdigest())
        file.seek(0)
    return digests


def _is_kept(response: HttpResponse) -> bool:
    return isinstance(response, HttpResponseRedirectBase)
