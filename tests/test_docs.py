"""What the README and its neighbours say is so, and stays so."""

import re
from pathlib import Path

import pytest
from django.core.management import get_commands

from barcourse.demo.house import NAME, OWNER, PASSWORD, STAFF
from barcourse.environment import Environment
from barcourse.people.roles import MAY_INVITE_AS, ROLE_MAY, May, Role

ROOT = Path(__file__).parent.parent
NOT_OURS = {".git", ".venv", "var", "node_modules"}
FILES = sorted(
    path
    for path in ROOT.rglob("*")
    if path.is_file()
    and not NOT_OURS & set(path.relative_to(ROOT).parts)
    and not any(part.endswith(("_cache", "__pycache__")) for part in path.parts)
    and ".hypothesis" not in path.parts
)
PAGES = [path for path in FILES if path.suffix == ".md"]
README = (ROOT / "README.md").read_text()
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text()
DECISIONS = sorted((ROOT / "docs" / "decisions").glob("*.md"))
PICTURES = ROOT / "docs" / "screenshots"
MOST_BYTES = 150_000

md = pytest.mark.parametrize("page", PAGES, ids=lambda path: str(path.relative_to(ROOT)))


def code_in(text: str) -> list[str]:
    """What stands between backticks, and each line of a fenced block."""
    fenced = re.findall(r"```\w*\n(.*?)```", text, re.DOTALL)
    inline = re.findall(r"`([^`]+)`", re.sub(r"```.*?```", "", text, flags=re.DOTALL))
    return [*(line for block in fenced for line in block.splitlines()), *inline]


def rows_under(text: str, heading: str) -> list[list[str]]:
    """Cells of the table under a heading, without its head."""
    section = text.split(f"## {heading}\n", 1)[1].split("\n## ", 1)[0]
    lines = [line for line in section.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in line.strip("|").split("|")] for line in lines[2:]]


@md
def test_every_command_that_is_named_is_there(page):
    targets = set(re.findall(r"^([a-z]+):", (ROOT / "Makefile").read_text(), re.MULTILINE))
    commands = get_commands()
    for code in code_in(page.read_text()):
        for target in re.findall(r"(?:^|\s)make ([a-z]+)", code):
            assert target in targets, code
        for command in re.findall(r"manage\.py ([a-z_]+)", code):
            assert command in commands, code


def test_the_two_commands_stand_at_the_top_of_the_readme():
    first = README.split("## ", 1)[0]

    assert re.findall(r"^make (\w+)", first, re.MULTILINE) == ["run", "test"]


def test_every_picture_is_there_and_every_one_there_is_shown():
    shown = re.findall(r"!\[([^\]]+)\]\(([^)]+)\)", README)

    assert all(len(words) > 20 for words, _path in shown)
    assert {ROOT / path for _words, path in shown} == set(PICTURES.iterdir())


def test_a_picture_loads_quickly():
    assert [p.name for p in PICTURES.iterdir() if p.stat().st_size > MOST_BYTES] == []


def test_the_tour_names_people_of_the_demo_house_and_their_password():
    tour = README.split("## Five minutes", 1)[1].split("\n## ", 1)[0]
    sign_ins = {hand.sign_in for hand in (OWNER, *STAFF)}
    named = set(re.findall(r"(?:as |^)`([a-z]+)`", tour, re.MULTILINE))

    assert NAME in tour
    assert f"`{PASSWORD}`" in tour
    assert len(named) >= 4
    assert named <= sign_ins


def test_what_the_readme_calls_by_name_is_called_so_on_screen():
    """`*Watch*` in the README is a word that the program says, or the name of the demo house."""
    ours = ("templates", "barcourse", "recipes", "assessments")
    said = [
        path.read_text()
        for path in FILES
        if path.relative_to(ROOT).parts[0] in ours and path.suffix in (".html", ".py")
    ]
    names = set(re.findall(r"(?<!\*)\*([A-Z][^*]+)\*(?!\*)", README)) - {NAME}

    assert len(names) > 5
    for name in names:
        assert any(f'"{name}"' in text or f"'{name}'" in text for text in said), name


DOING = {
    "learn": {May.LEARN},
    "read and change the house book": {May.SEE_BOOK, May.EDIT_BOOK},
    "watch builds": {May.WATCH, May.VOID, May.SEE_RECORDS},
    "see who is ready": {May.SEE_READY},
    "take in what the till sold": {May.TAKE_IN_SALES},
    "set what ready takes": {May.SET_READY},
    "issue and revoke certificates": {May.SEE_PAPERS, May.ISSUE_PAPERS, May.SEE_LOG},
    "invite trainees and trainers": {May.INVITE},
    "invite anybody, change roles": {May.CHANGE_PEOPLE, May.SET_HOUSE},
}
"""How each line of the README's table begins, and which abilities it speaks of."""
COLUMNS = (Role.TRAINEE, Role.TRAINER, Role.MANAGER, Role.OWNER)


def test_who_may_do_what_is_what_roles_may():
    rows = rows_under(README, "Who may do what")

    assert [next(d for d in DOING if row[0].startswith(d)) for row in rows] == list(DOING)
    for doing, *cells in rows:
        abilities = next(may for start, may in DOING.items() if doing.startswith(start))
        for role, cell in zip(COLUMNS, cells, strict=True):
            assert {ability in ROLE_MAY[role] for ability in abilities} == {cell == "yes"}, doing


def test_every_ability_stands_in_one_line_of_it():
    assert sorted(may for line in DOING.values() for may in line) == sorted(May)


def test_who_invites_whom_is_what_it_says():
    rows = {row[0]: row[1:] for row in rows_under(README, "Who may do what")}
    some = next(cells for doing, cells in rows.items() if doing.startswith("invite trainees"))
    anybody = next(cells for doing, cells in rows.items() if doing.startswith("invite anybody"))
    for role, few, all_of_them in zip(COLUMNS, some, anybody, strict=True):
        assert ({Role.TRAINEE, Role.TRAINER} <= set(MAY_INVITE_AS[role])) is (few == "yes")
        assert (set(Role) == set(MAY_INVITE_AS[role])) is (all_of_them == "yes")


def test_every_setting_is_explained_and_no_other():
    said = {name.strip("`") for name, _words in rows_under(DEVELOPERS, "Settings")}
    read = {
        str(field.validation_alias or f"BARCOURSE_{name.upper()}")
        for name, field in Environment.model_fields.items()
    }

    assert said == read


@md
def test_a_link_to_one_of_our_files_leads_there(page):
    text = re.sub(r"```.*?```", "", page.read_text(), flags=re.DOTALL)
    for link in re.findall(r"\]\(([^)\s]+)\)", text):
        if "://" not in link:
            path, _, anchor = link.partition("#")
            target = (page.parent / path) if path else page
            assert target.exists(), link
            assert not anchor or anchor in anchors(target.read_text()), link


def anchors(text: str) -> set[str]:
    headings = re.findall(r"^#+ (.+)$", text, re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


@md
def test_a_file_that_is_named_is_there(page):
    names = [str(path.relative_to(ROOT)) for path in FILES]
    for code in code_in(page.read_text()):
        if re.fullmatch(r"(?:[\w.-]+/)+[\w.*-]*|[\w-]+\.(?:py|html|css|js|md|toml|sh)", code):
            like = re.compile("(?:.*/)?" + re.escape(code).replace(r"\*", "[^/]*"))
            assert any(like.match(name) for name in names) or code == "var/", code


def test_decisions_are_numbered_without_a_gap():
    numbers = [int(path.name[:4]) for path in DECISIONS]

    assert numbers == list(range(1, len(DECISIONS) + 1))


@pytest.mark.parametrize("record", DECISIONS, ids=lambda path: path.stem)
def test_a_decision_says_its_number_its_state_and_its_reasons(record):
    text = record.read_text()

    assert text.startswith(f"# {int(record.name[:4])}. ")
    for part in ("**Status:**", "**Context.**", "**Decision.**", "**Consequences.**"):
        assert part in text
    assert len(text.splitlines()) <= 40


OF_A_WORKPLACE = {
    "a path of one machine": r"(?<![\w.~\]})/])/(?:work|tmp|root|home)/\w",
    "a number that only a tracker knows": r"(?i)\b(?:issue|pull request)s? (?:no\. ?)?#?\d",
    "who typed it": r"(?i)co-authored-by|generated with|language model",
}


@pytest.mark.parametrize("pattern", OF_A_WORKPLACE.values(), ids=OF_A_WORKPLACE)
def test_files_speak_of_the_product_alone(pattern):
    found = []
    for path in FILES:
        try:
            text = path.read_text()
        except UnicodeDecodeError:
            continue
        for number, line in enumerate(text.splitlines(), start=1):
            if path != Path(__file__) and re.search(pattern, line):
                found.append(f"{path.relative_to(ROOT)}:{number}: {line.strip()}")

    assert found == []


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("see /home/someone/notes", "a path of one machine"),
        ("it was issue #12", "a number that only a tracker knows"),
        ("Co-authored-by: nobody", "who typed it"),
    ],
)
def test_such_a_line_would_be_found(line, kind):
    assert re.search(OF_A_WORKPLACE[kind], line)
