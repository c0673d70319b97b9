"""Recipes taken in from a sheet: `import_recipes`, `export_recipes` and what they write."""

import csv
import io
import json
import zipfile
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from django.core.management import CommandError, call_command

from barcourse.people import log
from recipes import publish, shipped
from recipes.exporting import recipes_sheet
from recipes.grammar.reasons import CannotBuild
from recipes.grammar.sheet_text import ALL, COLUMNS, read_sheet
from recipes.importing import MOST_KB, NotReceived, carried, received
from recipes.menu import menu_at
from recipes.models import Ingredient, Recipe
from recipes.publish import OnMenu
from recipes.publish_import import import_recipes
from tests.factories.people import OPENED
from tests.factories.recipes import DAY, change_rules, recipe

FIFTY = Path(__file__).parent.parent / "data" / "fifty_in_millilitres.csv"
REAL_COURSE, REAL_RULES = shipped.shipped_course, shipped.shipped_rules
HEAD = ",".join(COLUMNS)
MIST = "Harbour Mist,highballs,,,,40 ml vodka; top cola,,mist"


@pytest.fixture(autouse=True)
def _a_day_later(time_machine):
    time_machine.move_to(OPENED + DAY, tick=False)


@pytest.fixture
def _the_real_course(monkeypatch):
    monkeypatch.setattr(shipped, "shipped_course", REAL_COURSE)
    monkeypatch.setattr(shipped, "shipped_rules", REAL_RULES)


@pytest.fixture
def sheet(tmp_path):
    """Writes a sheet of these rows and says where it is."""

    def write(*rows: str, head: str = HEAD, encoding: str = "utf-8") -> str:
        path = tmp_path / "recipes.csv"
        path.write_bytes("\n".join([head, *rows, ""]).encode(encoding))
        return str(path)

    return write


@pytest.fixture
def run(capsys):
    """Exit code, standard output, standard error of the command."""

    def call(*args: str):
        code = 0
        try:
            call_command("import_recipes", *args)
        except SystemExit as stop:
            code = stop.code
        except CommandError as refused:
            return refused.returncode, "", str(refused)
        said = capsys.readouterr()
        return code, said.out, said.err

    return call


def told(run, *args: str):
    code, out, _err = run(*args, "--json")
    return code, json.loads(out)


def kept(house) -> tuple[int, int, int]:
    return (
        Recipe.objects.in_house(house).count(),
        Ingredient.objects.in_house(house).count(),
        log.head(house).number,
    )


# Fifty recipes in millilitres


@pytest.mark.usefixtures("_the_real_course")
def test_fifty_recipes_in_millilitres_come_in_with_their_strengths(odalys, run):
    before = Recipe.objects.in_house(odalys.venue).count()

    code, said = told(run, str(FIFTY), "--add-ingredients")

    assert (code, said["problems"], said["taken_in"]) == (0, [], True)
    assert len(said["added"]) == 50
    assert Recipe.objects.in_house(odalys.venue).count() == before + 50
    strong = {d["slug"]: d["strength"] for d in said["drinks"]}
    # By hand: 50 ml gin at 40 % and 20 ml cordial make 70 ml at 28.6 %; shaken, the published
    # quadratic adds -1.567 a² + 1.742 a + 0.203 = 0.573 of it. 20 ml * 0.789 g/ml = 15.78 g.
    assert strong["harbour-gimlet"]["volume_ml"] == pytest.approx(70 * 1.5728, abs=0.1)
    assert strong["harbour-gimlet"]["ethanol_g"] == pytest.approx(15.78, abs=0.01)
    # 40 ml at 40 % in the 295.7 ml glass, half of which is ice: 16 / 147.9 = 10.8 %.
    assert strong["bollard"]["abv_percent"] == pytest.approx(10.82, abs=0.01)
    free = {"dry-bell", "quiet-watch"}
    assert {s for s, v in strong.items() if v["ethanol_g"] == 0} == free
    assert all(v["abv_percent"] > 2 for s, v in strong.items() if s not in free)


@pytest.mark.usefixtures("_the_real_course")
def test_without_leave_unknown_ingredients_are_listed_and_nothing_is_taken_in(odalys, run):
    before = kept(odalys.venue)

    code, said = told(run, str(FIFTY))

    assert (code, said["taken_in"], said["added"][:1]) == (2, False, [])
    assert said["unknown_ingredients"] == [
        "elderflower cordial", "raspberry", "falernum", "tawny port", "navy rum", "brown ale",
        "porter", "cinnamon syrup",
    ]  # fmt: skip
    assert kept(odalys.venue) == before


# Rows


def test_a_drink_is_added_with_its_other_names_and_is_poured(odalys, sheet, run):
    code, out, _err = run(sheet(MIST))

    assert (code, out) == (0, "Taken in: 1 added, 0 changed, 0 unchanged.\n")
    row = recipe(odalys, "harbour-mist")
    assert (row.name, row.aliases, row.module.slug) == ("Harbour Mist", ["mist"], "highballs")
    item = menu_at(odalys.venue, OPENED + DAY).by_slug["harbour-mist"]
    assert [(p.ingredient, p.ml) for p in item.drink.spec.parts] == [("vodka", 40), ("cola", None)]


def test_everything_is_logged_and_the_log_is_whole(odalys, sheet, run):
    run(sheet(MIST))

    kinds = [e.kind for e in odalys.venue.log_entries.order_by("number")][-3:]
    assert kinds == ["revision_published", "drink_added", "recipes_imported"]
    assert log.check(odalys.venue) == []


def test_a_known_name_changes_that_drink(odalys, sheet, run):
    code, said = told(run, sheet("MADRAS,,,,,1 pour gin; top cranberry juice,,"))

    assert (code, said["changed"], said["added"]) == (0, ["madras"], [])
    madras = recipe(odalys, "madras")
    assert madras.revisions.count() == 2
    assert (madras.name, madras.module.slug) == ("Madras", "highballs")


def test_another_name_of_a_drink_is_that_drink_and_stays_its_name(odalys, sheet, run):
    code, said = told(run, sheet("Vodka Cran,,,,,2 pours vodka; top cranberry juice,,codder"))

    assert (code, said["changed"]) == (0, ["cape-codder"])
    assert recipe(odalys, "cape-codder").aliases == ["Vodka Cran", "codder"]


def test_a_new_drink_without_a_module_goes_where_its_like_are(odalys, sheet, run):
    run(sheet("Harbour Mist,,,,,40 ml vodka; top cola,,", "Tall Tap,,,,draught,400 ml lager,,"))

    assert recipe(odalys, "harbour-mist").module.slug == "highballs"
    assert recipe(odalys, "tall-tap").module.slug == "beer"


def test_dry_run_says_what_would_be_and_writes_nothing(odalys, sheet, run):
    before = kept(odalys.venue)
    rows = sheet(MIST, "Fog,rocks,,,,50 ml navy rum,,")

    code, out, _err = run(rows, "--dry-run", "--add-ingredients")

    assert code == 0
    assert out.splitlines() == [
        "Would be taken in: 2 added, 0 changed, 0 unchanged.",
        "New ingredient: navy rum (rum, 40 %; read its label)",
    ]
    assert kept(odalys.venue) == before


BAD = [
    ("Madras,,,,,1 pour lime juce; top cola,,", "no “lime juce” here. Did you mean lime juice?"),
    ("Fog,,,,,1 pour whalebone,,", "This house has no “whalebone”."),
    ("Fog,Wine,,,,1 pour gin,,", "There is no module “Wine”. There are: Highballs, Rocks, Shots"),
    ("Fog,rocks,higball,,,1 pour gin,,", "Did you mean the Highball glass?"),
    ("Fog,highballs,shot,,,3 pours gin; top cola,,", "It runs over"),
    ("Fog,highballs,,,,top cola,,", "There is no alcohol in this drink."),
    ("Fog,rocks,,,,1 pour gin,,vodka cran", "the drink Cape codder is called that already"),
    ("Gin,rocks,,,,1 pour gin,,", "the ingredient gin is called that already"),
    ("Fog,rocks,,,,1 pour gin,,tall one", "guests say that of any drink"),
    ("Beer,rocks,,,,1 pour gin,,", "guests mean any of that kind"),
    (",rocks,,,,1 pour gin,,", "The drink has no name."),
    ("Fog,rocks,,,,-1 pour gin,,", "“-1 pour gin” is less than nothing"),
    ("Fog,rocks,,,,3 glugs gin,,", "“glugs” is no measure of gin."),
    ("Fog,rocks", "2 cells, but there are 8 columns"),
    ("Fog,rocks,,,,10-12 leaves mint leaf; 1 pour gin,,", "“10-12” is two amounts"),
    ("Fog,highballs,,,,top gin,,", "Gin has 40 % alcohol, too much to fill a glass with."),
    ("Fog,rocks,,,,1 pour gin,,,x", "9 cells, but there are 8 columns"),
    ("Fog,highballs,,,,1 pour gin,top cola,", "“top cola” is poured, but stands under garnish."),
    ("Mádras,highballs,,,,1 pour gin,,", "The book has Madras. If “Mádras” is that drink"),
    ("Madrass,highballs,,,,1 pour gin,,", "The book has Madras."),
]  # fmt: skip


@pytest.mark.parametrize(("row", "says"), BAD)
def test_a_bad_row_is_named_with_line_and_reason_and_nothing_is_taken_in(
    odalys, sheet, run, row, says
):
    before = kept(odalys.venue)

    code, out, err = run(sheet(MIST, row))

    assert (code, out) == (2, "")
    assert err.startswith("Line 3")
    assert says in err
    assert kept(odalys.venue) == before


def test_every_bad_row_is_named(odalys, sheet, run):
    code, _out, err = run(sheet(*(row for row, _says in BAD), MIST, MIST))

    lines = [line.split(",")[0].split(":")[0] for line in err.splitlines()]
    assert code == 2
    assert list(dict.fromkeys(lines))[: len(BAD)] == [f"Line {n}" for n in range(2, len(BAD) + 2)]
    assert (
        "Line 23, Harbour Mist: Harbour Mist stands in this sheet twice, before in line 22." in err
    )
    assert err.splitlines()[-1] == "Unknown ingredients: whalebone."


LONG = """name,ingredients,method
Sea Wind,40 ml vodka; 120 ml cranberry juice; 30 ml grapefruit juice,build
Early Light,45 ml tequila; 90 ml orange juice; 15 ml grenadine,build
Kicking Foal,45 ml vodka; 120 ml ginger beer; 10 ml lime juice,build
Marigold,75 ml orange juice; 75 ml sparkling wine,build
Pale Beach,3 fl oz white rum; 90 ml pineapple juice; 30 ml sweet coconut cream,blend
Salt Line,1.5 fl oz tequila; 1 fl oz orange liqueur; 1 fl oz lime juice,shake
"""


@pytest.mark.usefixtures("_the_real_course")
def test_a_build_too_big_for_the_usual_glass_takes_the_smallest_that_holds_it(
    odalys, tmp_path, run
):
    """The volumes of six drinks of an international list (IBA, and NIAAA for the last two)."""
    path = tmp_path / "long.csv"
    path.write_text(LONG)
    code, said = told(run, str(path))
    glasses = {d["slug"]: d.get("glass_chosen") for d in said["drinks"]}

    assert (code, said["problems"]) == (0, [])
    assert glasses == {
        "sea-wind": "pint", "early-light": "double-rocks", "kicking-foal": "collins",
        "marigold": None, "pale-beach": "pint", "salt-line": "double-rocks",
    }  # fmt: skip
    assert menu_at(odalys.venue, OPENED + DAY).by_slug["marigold"].drink.spec.glass == "flute"
    code, out, _err = run(str(path))
    assert (code, out) == (0, "Taken in: 0 added, 0 changed, 6 unchanged.\n")


def test_a_glass_that_was_chosen_is_said(odalys, sheet, run):
    _code, out, _err = run(sheet("Fog,rocks,,,,160 ml gin,,"))

    assert "Line 2, Fog: in the Pint glass, the usual glass is too small." in out


def test_a_name_that_is_nearly_anothers_may_be_said_to_be_that_drink(odalys, sheet, run):
    rows = sheet("Mádras,highballs,,,,1 pour gin; top cola,,")

    code, said = told(run, rows, "--same", "Mádras=madras")

    assert (code, said["added"], said["changed"]) == (0, [], ["madras"])
    assert run(rows, "--same", "Mádras=nothing") == (
        2, "", "--same 'Mádras=nothing': there is no drink 'nothing' in the book."
    )  # fmt: skip


def test_a_sheet_that_is_none_says_so_in_json_too(odalys, sheet, capsys):
    path = sheet()
    with pytest.raises(CommandError) as refused:
        call_command("import_recipes", path, "--json")
    said = json.loads(capsys.readouterr().out)

    assert refused.value.returncode == 2
    assert str(refused.value).endswith("no drink is in it.")
    assert (said["added"], said["taken_in"]) == ([], False)
    assert [p["code"] for p in said["problems"]] == ["sheet_without_rows"]


def test_a_name_that_tells_no_kind_is_asked_about(odalys, sheet, run):
    code, _out, err = run(sheet("Fog,rocks,,,,50 ml house secret,,"), "--add-ingredients")

    assert code == 2
    assert "Nothing in “house secret” says what kind of thing it is." in err


def test_new_ingredients_have_an_unread_label(odalys, sheet, run):
    _code, said = told(run, sheet("Fog,rocks,,,,50 ml navy rum,,"), "--add-ingredients")

    assert said["ingredients"] == [
        {"slug": "navy-rum", "name": "navy rum", "kind": "rum", "abv": 40.0}
    ]
    assert Ingredient.objects.in_house(odalys.venue).get(slug="navy-rum").allergens is None


# Files


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_encodings(odalys, sheet, run, encoding):
    rows = "Café;rocks;;;;1½ oz gin;;"
    code, said = told(run, sheet(rows, head=HEAD.replace(",", ";"), encoding=encoding))

    assert (code, said["added"]) == (0, ["cafe"])
    assert said["encoding"] == encoding.removesuffix("-sig")
    assert recipe(odalys, "cafe").name == "Café"


def test_a_workbook_with_numbers_and_an_unstored_formula(odalys, tmp_path, run):
    book = openpyxl.Workbook()
    book.active.append([*COLUMNS])
    book.active.append([75, "rocks", None, None, None, "1 pour gin", None, "=CONCAT(1,2)"])
    book.save(tmp_path / "recipes.xlsx")

    code, said = told(run, str(tmp_path / "recipes.xlsx"))

    assert (code, said["added"], said["encoding"]) == (0, ["75"], "")
    assert recipe(odalys, "75").aliases == []


def ods(*rows: tuple[str, ...]) -> bytes:
    """A spreadsheet of the open format with one table: no more than a reader needs."""
    cells = "".join(
        "<table:table-row>"
        + "".join(
            f'<table:table-cell office:value-type="string"><text:p>{c}</text:p></table:table-cell>'
            for c in row
        )
        + "</table:table-row>"
        for row in rows
    )
    names = " ".join(
        f'xmlns:{n}="urn:oasis:names:tc:opendocument:xmlns:{n}:1.0"'
        for n in ("office", "table", "text")
    )
    content = (
        f'<?xml version="1.0"?><office:document-content {names}><office:body><office:spreadsheet>'
        f'<table:table table:name="a">{cells}</table:table></office:spreadsheet></office:body>'
        "</office:document-content>"
    )
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    manifest = (
        '<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{kind}"/>'
        "</manifest:manifest>"
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as packed:
        packed.writestr("mimetype", kind)
        packed.writestr("content.xml", content)
        packed.writestr("META-INF/manifest.xml", manifest)
    return out.getvalue()


def test_a_spreadsheet_of_the_open_format(odalys, tmp_path, run):
    path = tmp_path / "recipes.ods"
    path.write_bytes(ods(("name", "ingredients"), ("Fog", "1 pour gin")))

    assert told(run, str(path))[1]["added"] == ["fog"]


def bomb() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("content.xml", b" " * 30_000_000)
    return out.getvalue()


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"x" * (MOST_KB * 1000 + 1), "sheet_too_large"),
        (b"name\0", "sheet_of_no_kind"),
        (b"PK\x03\x04 broken", "sheet_of_no_kind"),
        (bomb(), "sheet_unpacks_too_large"),
    ],
)
def test_a_file_of_no_kind_is_refused(data, code):
    with pytest.raises(CannotBuild) as refused:
        received(data)

    assert [r.code for r in refused.value.reasons] == [code]


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["nowhere.csv"], "nowhere.csv: No such file or directory."),
        (["nowhere.csv", "--venue", "elsewhere"], "There is no house 'elsewhere'."),
    ],
)
def test_a_bad_call_exits_with_one_line(odalys, run, args, says):
    assert run(*args) == (2, "", says)


def test_a_sheet_without_its_columns_exits_with_one_line(odalys, sheet, run):
    code, _out, err = run(sheet("x", head="drink"))

    assert code == 2
    assert err.endswith(
        "Line 1: The first row must name the columns name and ingredients. It names: drink."
    )


def test_columns_that_nobody_reads_are_said(odalys, sheet, run):
    _code, out, _err = run(sheet("Fog,1 pour gin,7", head="name,ingredients,stars"))

    assert "Column not read: stars" in out
    _code, _out, err = run(sheet("Fog,1 pour moonwater,7", head="name,ingredients,stars"))
    assert "Column not read: stars" in err


def test_what_is_carried_is_signed_for_one_house(odalys, ravna):
    said = received(HEAD.encode()).signed(odalys.venue)

    assert carried(said, odalys.venue).data == HEAD.encode()
    for wrong, venue in ((said, ravna.venue), (said + "x", odalys.venue), ("", odalys.venue)):
        with pytest.raises(NotReceived):
            carried(wrong, venue)


# There and back


def export(capsys) -> str:
    capsys.readouterr()
    call_command("export_recipes")
    return capsys.readouterr().out


@pytest.mark.usefixtures("_the_real_course")
def test_the_shipped_course_goes_out_and_in_without_a_change(odalys, capsys, tmp_path, run):
    text = export(capsys)
    (tmp_path / "out.csv").write_bytes(text.encode())
    before = kept(odalys.venue)

    code, said = told(run, str(tmp_path / "out.csv"))

    assert (code, said["added"], said["changed"], said["ingredients"]) == (0, [], [], [])
    assert len(said["unchanged"]) == before[0] > 100
    assert kept(odalys.venue) == before
    assert next(csv.reader(io.StringIO(text))) == list(ALL)


def test_a_name_that_is_nearly_anothers_is_new_where_that_is_said(odalys, sheet, run):
    rows = sheet("Madraz,highballs,,,,1 pour gin; top cola,,")

    assert told(run, rows)[1]["problems"][0]["code"] == "near_drink"
    assert told(run, rows, "--new-names")[1]["added"] == ["madraz"]


MENU = HEAD + ",price,must_know,poured,share"


def test_price_share_must_know_and_poured_come_in_where_a_sheet_has_them(odalys, sheet, run):
    rows = (
        'Harbour Mist,highballs,,,,40 ml vodka; top cola,,,"1,200.00",yes,yes,0.25',
        "Madras,,,,,1 pour gin; top cranberry juice,,,9.50,,no,",
        "Fog,rocks,,,,1 pour gin,,,,,no,",
    )

    code, said = told(run, sheet(*rows, head=MENU))

    assert (code, said["problems"]) == (0, [])
    mist, madras, fog = (recipe(odalys, s) for s in ("harbour-mist", "madras", "fog"))
    assert (mist.price, mist.share, mist.must_know) == (Decimal(1200), 0.25, True)
    assert (madras.price, madras.share, madras.is_poured) == (Decimal("9.5"), 1, False)
    assert (fog.price, fog.is_poured) == (None, False)
    again = import_recipes(
        by=odalys, sheet=read_sheet(recipes_sheet(odalys.venue, OPENED + DAY)), at=OPENED + DAY
    )
    assert {row.outcome.value for row in again.rows} == {"unchanged"}


def test_only_how_a_drink_stands_may_change(odalys, sheet, run):
    text = recipes_sheet(odalys.venue, OPENED + DAY)
    row = next(line for line in text.splitlines() if line.startswith("Madras,"))
    changed = row.rsplit(",", 4)[0] + ",8,1,yes,yes"

    code, said = told(run, sheet(changed, head=",".join(ALL)))

    assert (code, said["changed"]) == (0, ["madras"])
    madras = recipe(odalys, "madras")
    assert (madras.price, madras.must_know, madras.revisions.count()) == (Decimal(8), True, 1)


def test_drinks_off_the_menu_go_out_and_in_too(odalys, capsys):
    publish.set_menu(by=odalys, standing={"madras": OnMenu.OFF}, at=OPENED + DAY)
    found = import_recipes(by=odalys, sheet=read_sheet(export(capsys)), at=OPENED + DAY)

    assert {row.outcome.value for row in found.rows} == {"unchanged"}
    assert "madras" in {row.slug for row in found.rows}


def test_what_looks_like_a_formula_goes_out_as_text(odalys, sheet, run):
    run(sheet("'=Fog,rocks,,,,1 pour gin,,'@home"))
    assert recipe(odalys, "fog").name == "=Fog"

    text = recipes_sheet(odalys.venue, OPENED + DAY)

    assert "'=Fog,rocks," in text
    assert "'@home" in text
    again = import_recipes(by=odalys, sheet=read_sheet(text), at=OPENED + DAY)
    assert {row.outcome.value for row in again.rows} == {"unchanged"}


def test_a_word_of_the_house_rules_is_refused_with_both_owners(odalys, sheet, run):
    change_rules(odalys, patterns={"mist": {"mixers": ["cola"]}})
    before = kept(odalys.venue)
    code, out, err = run(sheet(MIST))

    assert code == 2
    assert "“mist” can't mean Harbour Mist" in out + err
    assert "“mist” is a pattern in the house rules" in out + err
    assert kept(odalys.venue) == before
