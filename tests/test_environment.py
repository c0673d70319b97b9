"""What the program refuses to start with, and what it starts with."""

import pytest
from django.core.exceptions import ImproperlyConfigured

from barcourse import environment

KEY = "k" * 50
HOUSE = {"BARCOURSE_SECRET_KEY": KEY, "BARCOURSE_BASE_URL": "https://train.bar.example"}
DEMO = {"BARCOURSE_DEMO": "1"}


@pytest.fixture
def read(monkeypatch):
    for name in environment.Environment.model_fields:
        monkeypatch.delenv(f"BARCOURSE_{name.upper()}", raising=False)
    monkeypatch.delenv("DATABASE_URL", raising=False)

    def read_with(**variables):
        for name, value in variables.items():
            monkeypatch.setenv(name, value)
        return environment.read()

    return read_with


REFUSED = [
    ({}, "BARCOURSE_SECRET_KEY must be set"),
    ({**HOUSE, "BARCOURSE_SECRET_KEY": "k" * 49}, "50 characters or more"),
    ({"BARCOURSE_SECRET_KEY": KEY}, "BARCOURSE_BASE_URL must be set to the https address"),
    ({**HOUSE, "BARCOURSE_BASE_URL": "http://train.bar.example"}, "https address"),
    (
        {**HOUSE, "BARCOURSE_BASE_URL": "train.bar.example"},
        "BARCOURSE_BASE_URL: must be an address",
    ),
    ({**HOUSE, "BARCOURSE_BASE_URL": "https://bar.example/train"}, "without a path"),
    ({**HOUSE, "BARCOURSE_ALLOWED_HOSTS": "*"}, "must name hosts"),
    ({**HOUSE, "DATABASE_URL": "nonsense://x"}, "DATABASE_URL: "),
    ({**HOUSE, "BARCOURSE_LOG_LEVEL": "loud"}, "BARCOURSE_LOG_LEVEL: must be"),
    ({**HOUSE, "BARCOURSE_OPEN_HOUSES": "perhaps"}, "BARCOURSE_OPEN_HOUSES: "),
    ({**DEMO, "BARCOURSE_BASE_URL": "https://train.bar.example"}, "must be loopback"),
    ({**DEMO, "BARCOURSE_BASE_URL": "http://192.168.0.7:8000"}, "must be loopback"),
]


@pytest.mark.parametrize(("variables", "words"), REFUSED, ids=[words for _, words in REFUSED])
def test_an_unsafe_start_is_refused_in_words(read, variables, words):
    with pytest.raises(ImproperlyConfigured, match=r"^[^\n]+$") as refusal:
        read(**variables)

    assert words in str(refusal.value)


def test_a_refusal_never_repeats_the_key(read):
    with pytest.raises(ImproperlyConfigured) as refusal:
        read(BARCOURSE_SECRET_KEY="short-but-mine")

    assert "short-but-mine" not in str(refusal.value)
    assert refusal.value.__suppress_context__


def test_a_house_needs_a_key_and_an_address_and_nothing_else(read):
    env = read(**HOUSE)

    assert (env.demo, env.open_houses, env.behind_proxy) == (False, False, False)
    assert env.key == KEY
    assert env.address == "https://train.bar.example"
    assert env.hosts == ["train.bar.example"]


def test_a_house_may_answer_to_more_names(read):
    env = read(**HOUSE, BARCOURSE_ALLOWED_HOSTS="train.bar.example, bar.local")

    assert env.hosts == ["train.bar.example", "bar.local"]


@pytest.mark.parametrize("address", ["http://127.0.0.1:8001", "http://localhost:8001", ""])
def test_the_demo_needs_nothing_and_answers_to_loopback_names_alone(read, address):
    env = read(**DEMO, BARCOURSE_BASE_URL=address, BARCOURSE_ALLOWED_HOSTS="bar.example")

    assert env.hosts == ["127.0.0.1", "localhost", "[::1]"]
    assert env.address == (address or "http://127.0.0.1:8000")


def test_a_slash_at_the_end_of_the_address_is_dropped(read):
    assert read(**{**HOUSE, "BARCOURSE_BASE_URL": "https://bar.example/"}).address == (
        "https://bar.example"
    )


@pytest.mark.parametrize(
    ("host", "expected"),
    [
        ("127.0.0.1", True),
        ("127.8.8.8", True),
        ("::1", True),
        ("localhost", True),
        ("192.168.0.7", False),
        ("0.0.0.0", False),  # noqa: S104
        ("localhost.bar.example", False),
        ("", False),
    ],
)
def test_what_counts_as_this_machine(host, expected):
    assert environment.is_loopback(host) is expected
