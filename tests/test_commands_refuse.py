"""Every command for scripts: odd words are one line on stderr and exit 2, never a traceback."""

import pytest
from django.core.management import get_commands, load_command_class

from barcourse.people.management.asking import AskingCommand

OURS = sorted(
    name
    for name, app in get_commands().items()
    if not str(app).startswith("django") and name != "migrate"
)
ORDERS = ("--orders-per-hour", "180", "--drinks-per-hour", "70", "--wait-seconds", "120")
ODD = ("1e300", "-1e300", "-inf", "nan", "-1:ab", "", "x", "9" * 40, "\udc80", "٣")
TARGET = ("--target", "1", "--tolerance", "0.125")


def run(capsys, name, *said):
    """Exit code and the lines on stderr, as from a shell."""
    try:
        load_command_class(get_commands()[name], name).run_from_argv(["manage.py", name, *said])
        code = 0
    except SystemExit as left:
        code = left.code
    return code, capsys.readouterr().err.splitlines()


@pytest.mark.parametrize("name", OURS)
def test_a_word_that_no_command_knows_is_refused_on_one_line(capsys, name):
    assert isinstance(load_command_class(get_commands()[name], name), AskingCommand)
    code, lines = run(capsys, name, "--no-such-thing")

    assert code == 2
    assert len(lines) == 1
    assert "--help" in lines[0]


@pytest.mark.parametrize("odd", ODD)
@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("pour_check", ("1", "1", "1", "1", "{}", *TARGET)),
        ("pour_check", ("1", "1", "1.01", "1", "1", "--target={}", "--tolerance", "1")),
        ("pour_check", ("1", "1", "1.01", "1", "1", "--target", "1", "--tolerance={}")),
        ("pour_check", ("1", "--unit={}", *TARGET)),
        ("pour_check", ("1", "--venue={}")),
        ("check_log", ("--head={}",)),
        ("check_log", ("--venue={}",)),
        ("who_is_ready", ("--at={}",)),
        ("who_is_ready", ("--station={}",)),
        ("read_call", ("{}",)),
        ("staff_for", (*ORDERS, "--share={}")),
        ("staff_for", (*ORDERS, "--share", "0.9", "--people={}")),
    ],
)
def test_odd_words_are_answered_or_refused_on_one_line(capsys, tamsin, name, said, odd):
    code, lines = run(capsys, name, *(word.format(odd) for word in said))

    assert code in (0, 2)
    assert len(lines) == (1 if code == 2 else 0)


@pytest.mark.parametrize(
    "at", ["0001-01-01", "0001-01-01T00:00+14:00", "9999-12-31T23:59-14:00", "3000-01-01"]
)
def test_no_house_is_asked_of_a_year_without_one(capsys, tamsin, at):
    code, lines = run(capsys, "who_is_ready", f"--at={at}", "--venue", tamsin.venue.slug)

    assert (code, len(lines)) == (2, 1)
    assert "No house was open" in lines[0]
