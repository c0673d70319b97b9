"""What Barcourse takes from the environment, and what it refuses to start with."""

import ipaddress
from typing import Annotated, Self
from urllib.parse import urlsplit

import dj_database_url
from django.core.exceptions import ImproperlyConfigured
from pydantic import Field, SecretStr, ValidationError, field_validator, model_validator
from pydantic_settings import BaseSettings, NoDecode, SettingsConfigDict

LOOPBACK_HOSTS = ("127.0.0.1", "localhost", "[::1]")
SHORTEST_SECRET = 50
DEMO_SECRET = "demo-only-and-loopback-only-so-this-key-guards-nothing-worth-having"  # noqa: S105


class Environment(BaseSettings):
    """One field a variable; `BARCOURSE_` stands before each, save `DATABASE_URL`.

    Outside demo mode a secret key and an https address are required. Demo mode needs neither,
    and answers on this machine alone.
    """

    model_config = SettingsConfigDict(env_prefix="BARCOURSE_", extra="ignore", frozen=True)

    demo: bool = False
    secret_key: SecretStr = SecretStr("")
    base_url: str = ""
    allowed_hosts: Annotated[tuple[str, ...], NoDecode] = ()
    database_url: str = Field("", validation_alias="DATABASE_URL")
    open_houses: bool = False
    behind_proxy: bool = False
    log_level: str = "INFO"

    @field_validator("allowed_hosts", mode="before")
    @classmethod
    def _split_at_commas(cls, value: str | tuple[str, ...]) -> tuple[str, ...]:
        parts = value.split(",") if isinstance(value, str) else value
        return tuple(host.strip() for host in parts if host.strip())

    @field_validator("base_url")
    @classmethod
    def _address_only(cls, value: str) -> str:
        address = urlsplit(value)
        if value and (address.scheme not in ("http", "https") or not address.hostname):
            raise ValueError("must be an address such as https://train.bar.example")
        if address.path.strip("/") or address.query or address.fragment:
            raise ValueError("must be an address without a path")
        return value.rstrip("/")

    @field_validator("database_url")
    @classmethod
    def _known_database(cls, value: str) -> str:
        if value:
            dj_database_url.parse(value)
        return value

    @field_validator("log_level")
    @classmethod
    def _known_level(cls, value: str) -> str:
        if value.upper() not in ("DEBUG", "INFO", "WARNING", "ERROR"):
            raise ValueError("must be DEBUG, INFO, WARNING or ERROR")
        return value.upper()

    @model_validator(mode="after")
    def _safe(self) -> Self:
        problem = _demo_problem(self) if self.demo else _open_air_problem(self)
        if problem:
            raise ValueError(problem)
        return self

    @property
    def key(self) -> str:
        return self.secret_key.get_secret_value() or DEMO_SECRET

    @property
    def address(self) -> str:
        """The address that links and QR codes carry, without a slash at its end."""
        return self.base_url or "http://127.0.0.1:8000"

    @property
    def hosts(self) -> list[str]:
        """The Host headers that are answered."""
        if self.demo:
            return list(LOOPBACK_HOSTS)
        return list(self.allowed_hosts) or [urlsplit(self.base_url).hostname or ""]


def _demo_problem(env: Environment) -> str:
    if env.base_url and not is_loopback(urlsplit(env.base_url).hostname or ""):
        return "BARCOURSE_DEMO=1 answers on this machine alone: BARCOURSE_BASE_URL must be loopback"
    return ""


def _open_air_problem(env: Environment) -> str:
    if len(env.secret_key.get_secret_value()) < SHORTEST_SECRET:
        return (
            f"BARCOURSE_SECRET_KEY must be set, {SHORTEST_SECRET} characters or more "
            "(or BARCOURSE_DEMO=1 for the demo house on this machine)"
        )
    if urlsplit(env.base_url).scheme != "https":
        return "BARCOURSE_BASE_URL must be set to the https address that phones will open"
    if "*" in env.allowed_hosts:
        return "BARCOURSE_ALLOWED_HOSTS must name hosts; * would answer to any"
    return ""


def is_loopback(host: str) -> bool:
    """Whether a host name or address means this machine."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def read() -> Environment:
    """The environment, checked.

    Raises ImproperlyConfigured with one line a problem, without any value in it.
    """
    try:
        return Environment()
    except ValidationError as refusal:
        lines = [_line(error["loc"], error["msg"]) for error in refusal.errors()]
        raise ImproperlyConfigured("\n".join(lines)) from None


def _line(place: tuple[int | str, ...], message: str) -> str:
    message = message.removeprefix("Value error, ")
    if not place:
        return message
    name = str(place[0])
    variable = name if name == "DATABASE_URL" else f"BARCOURSE_{name.upper()}"
    return f"{variable}: {message}"
