"""A pasted list: what each line is read as, and what is said about one that can't be."""

import pytest

from barcourse.people.lists import MOST_LINES, BadLines, read_names
from barcourse.people.reasons import Refused
from barcourse.people.roles import Role

EVERY = (Role.TRAINEE, Role.TRAINER, Role.MANAGER, Role.OWNER)


@pytest.mark.parametrize(
    ("text", "people"),
    [
        ("Nils", [("Nils", "trainee")]),
        ("Nils\nPia", [("Nils", "trainee"), ("Pia", "trainee")]),
        ("Nils\r\nPia\r\n", [("Nils", "trainee"), ("Pia", "trainee")]),
        ("\n Nils \n\n", [("Nils", "trainee")]),
        ("Pia, trainer", [("Pia", "trainer")]),
        ("Pia,TRAINER", [("Pia", "trainer")]),
        ("Pia\ttrainer", [("Pia", "trainer")]),
        ("Pia; manager", [("Pia", "manager")]),
        ("O'Shea the younger, trainee", [("O'Shea the younger", "trainee")]),
        ("Holm, Nils, trainer", [("Holm, Nils", "trainer")]),
        ("Nils\tHolm\ttrainer", [("Nils Holm", "trainer")]),
        ("Nils,", [("Nils", "trainee")]),
        ("Nils\t\t", [("Nils", "trainee")]),
        ("Pia, trainer,,", [("Pia", "trainer")]),
        ('"Hughes, Ian"', [("Hughes, Ian", "trainee")]),
        ('"Hughes, Ian",trainer', [("Hughes, Ian", "trainer")]),
        ('"Hughes, Ian"\t"trainer"', [("Hughes, Ian", "trainer")]),
        ("Hughes, Ian\ttrainer", [("Hughes, Ian", "trainer")]),
        ('"José ""Pepe"" Núñez"', [('José "Pepe" Núñez', "trainee")]),
        ('José "Pepe" Núñez', [('José "Pepe" Núñez', "trainee")]),
        ("- Lena", [("Lena", "trainee")]),
        ("\u2022 Ana", [("Ana", "trainee")]),
        ("\u2022Ana", [("Ana", "trainee")]),
        ("* Ana; trainer", [("Ana", "trainer")]),
        ("1. Karl\n2) Lena, trainer", [("Karl", "trainee"), ("Lena", "trainer")]),
        ("Karl-Heinz\nKarl 2", [("Karl-Heinz", "trainee"), ("Karl 2", "trainee")]),
    ],
)
def test_each_line_is_a_person(text, people):
    assert read_names(text, EVERY) == people


@pytest.mark.parametrize(
    ("text", "bad"),
    [
        ("Nils\nPia, chef", [(2, "role_unknown")]),
        ("Holm, Nils", [(1, "role_unknown")]),
        (", trainer\nPia", [(1, "name_missing")]),
        ("Nils\nPi\x07a\n" + "x" * 81, [(2, "name_control_characters"), (3, "name_too_long")]),
        ("\n\nMarek, manager", [(3, "role_not_yours_to_give")]),
        ("Pia\ttrainer\textra", [(1, "role_unknown")]),
        ("-\n,\n1.", [(1, "name_missing"), (2, "name_missing"), (3, "name_missing")]),
        ("Lena\nKarl\n- lena\nKarl, trainer", [(3, "name_twice"), (4, "name_twice")]),
        ("Odalys\nPia\nTamsin", [(1, "name_here"), (3, "name_invited")]),
    ],
)
def test_each_bad_line_is_named_with_its_reason(text, bad):
    with pytest.raises(BadLines) as found:
        read_names(
            text,
            (Role.TRAINEE, Role.TRAINER),
            taken={"odalys": "name_here", "tamsin": "name_invited"},
        )

    assert [(number, reason.code) for number, _, reason in found.value.lines] == bad


@pytest.mark.parametrize(
    ("lines", "code"),
    [(0, "list_empty"), (MOST_LINES, None), (MOST_LINES + 1, "list_too_long")],
)
def test_a_list_has_one_to_sixty_lines(lines, code):
    text = "\n\n".join(f"Person {number}" for number in range(lines))
    if code is None:
        assert len(read_names(text, EVERY)) == lines
        return

    with pytest.raises(Refused) as refused:
        read_names(text, EVERY)

    assert refused.value.reason.code == code
