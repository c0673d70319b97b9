"""Logs that a bar can keep and hand on: one line an event, with people and secrets struck out."""

import re
from typing import Any

import structlog
from structlog.typing import EventDict, Processor, WrappedLogger

STRUCK = "[struck out]"

_PRIVATE_KEY = re.compile(
    r"password|secret|token|cookie|session|authorization|csrf|sign_in|e?mail|(^|_)name$|note|text",
    re.IGNORECASE,
)
# An invitation's token or a certificate's code as a step of an address.
_ADDRESS_CODE = re.compile(r"(?<=/)[A-Za-z0-9_-]{20,}(?=[/?\s\"']|$)")
# PostgreSQL names the value that broke a rule: "Key (sign_in)=(ada) already exists".
_DATABASE_VALUE = re.compile(r"(\([^()]*\)=)\([^()]*\)")


def strike_out(_logger: WrappedLogger, _method: str, event: EventDict) -> EventDict:
    """Replaces whatever a key or a pattern marks as private, however deep it lies."""
    return {key: _struck(key, value) for key, value in event.items()}


def _struck(key: str, value: Any) -> Any:
    if _PRIVATE_KEY.search(key):
        return STRUCK
    if isinstance(value, dict):
        return {inner: _struck(str(inner), part) for inner, part in value.items()}
    if isinstance(value, (list, tuple)):
        return [_struck("", part) for part in value]
    return without_codes(value) if isinstance(value, str) else value


def without_codes(text: str) -> str:
    text = _ADDRESS_CODE.sub(STRUCK, text)
    return _DATABASE_VALUE.sub(rf"\1({STRUCK})", text)


def _drop_live_objects(_logger: WrappedLogger, _method: str, event: EventDict) -> EventDict:
    """Django hangs the whole request on its log lines; it has no place in a log."""
    for key in ("request", "_record", "_from_structlog"):
        event.pop(key, None)
    return event


def _one_line_for_a_no(_logger: WrappedLogger, _method: str, event: EventDict) -> EventDict:
    """Django hangs a traceback on every page not found or not allowed, too: nothing broke there."""
    if event.get("level") == "warning" and str(event.get("logger")).startswith("django."):
        event.pop("exc_info", None)
    return event


def _before() -> list[Processor]:
    return [
        structlog.contextvars.merge_contextvars,
        structlog.stdlib.add_log_level,
        structlog.stdlib.add_logger_name,
        structlog.stdlib.ExtraAdder(),
        structlog.processors.TimeStamper(fmt="iso", utc=True),
    ]


def _after(*, for_people: bool) -> list[Processor]:
    renderer: Processor = (
        structlog.dev.ConsoleRenderer(colors=False)
        if for_people
        else structlog.processors.JSONRenderer()
    )
    return [
        _drop_live_objects,
        _one_line_for_a_no,
        structlog.processors.format_exc_info,
        strike_out,
        renderer,
    ]


def configuration(*, level: str, for_people: bool) -> dict[str, Any]:
    """Django's LOGGING: everything to standard error, as text for people or JSON for programs."""
    return {
        "version": 1,
        "disable_existing_loggers": False,
        "formatters": {
            "line": {
                "()": structlog.stdlib.ProcessorFormatter,
                "foreign_pre_chain": _before(),
                "processors": _after(for_people=for_people),
            }
        },
        "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
        "root": {"handlers": ["stderr"], "level": level},
        "loggers": {
            "django": {"handlers": [], "level": level, "propagate": True},
            "django.server": {"handlers": [], "level": level, "propagate": True},
            # Layout remarks about fonts and CSS, thousands a day and no use to a bar.
            "weasyprint": {"level": "ERROR"},
            "fontTools": {"level": "ERROR"},
        },
    }


def configure() -> None:
    """Sends structlog's own loggers through the same lines as everyone else's."""
    structlog.configure(
        processors=[
            *_before(),
            structlog.stdlib.PositionalArgumentsFormatter(),
            structlog.stdlib.ProcessorFormatter.wrap_for_formatter,
        ],
        logger_factory=structlog.stdlib.LoggerFactory(),
        wrapper_class=structlog.stdlib.BoundLogger,
        cache_logger_on_first_use=True,
    )
