"""A server that starts bare still refuses what the commands refuse."""

import pytest
from django.core.exceptions import ImproperlyConfigured
from django.http import HttpResponse
from django.test import override_settings
from django.urls import path

from barcourse.people.start import refuse_unsafe_start


class Forgotten:
    urlpatterns = (path("forgotten/", lambda request: HttpResponse()),)


def test_a_sound_site_starts(db):
    assert refuse_unsafe_start() is None


def test_a_page_without_a_rule_does_not(db):
    with (
        override_settings(ROOT_URLCONF=Forgotten),
        pytest.raises(ImproperlyConfigured, match="'forgotten/'"),
    ):
        refuse_unsafe_start()


def test_a_database_without_guards_does_not(guards_lifted):
    with pytest.raises(ImproperlyConfigured, match="guard_sealed_people_logentry"):
        refuse_unsafe_start()
