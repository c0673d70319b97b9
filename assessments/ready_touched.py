"""Whoever writes evidence, and wherever: the packed row of its hire is no longer true."""

from __future__ import annotations

from typing import Any

from django.db.models.signals import post_save

from assessments.models import Answer
from assessments.ready_rows import EVIDENCE, stale


def listen() -> None:
    post_save.connect(_answered, sender=Answer, dispatch_uid="ready_row_answered")
    for kind in EVIDENCE:
        post_save.connect(_shown, sender=kind, dispatch_uid=f"ready_row_{kind.__name__}")


def _answered(instance: Answer, **said: Any) -> None:
    stale(instance.item.quiz.hire_id, instance.venue_id)


def _shown(instance: Any, **said: Any) -> None:
    stale(instance.hire_id, instance.venue_id)
