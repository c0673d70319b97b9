"""What is wrong with a sheet of recipes or with a menu that was pasted."""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as lazy

from recipes.grammar.till_kinds import Kind

SHEETS: dict[str, str | Promise] = {
    "sheet_empty": lazy("There is nothing in this sheet."),
    "sheet_without_rows": lazy("This sheet names its columns and nothing else: no drink is in it."),
    "sheet_unreadable": lazy("It stops being a sheet here. A quotation mark may stand alone."),
    "sheet_too_long": lazy("More than %(most)s rows: that is no house book. Split the sheet."),
    "sheet_too_large": lazy("This file is larger than %(kilobytes)s KB. Split it."),
    "sheet_unpacks_too_large": lazy(
        "There is more in this workbook than can be read at once: over %(megabytes)s MB unpacked. "
        "Split it."
    ),
    "sheet_of_no_kind": lazy("This file can't be read. Save it as CSV, XLSX or ODS."),
    "column_missing": lazy(
        "The first row must name the columns name and ingredients. It names: %(had)s."
    ),
    "column_twice": lazy("The first row names a column twice: %(column)s."),
    "cell_too_long": lazy(
        "A cell with more than %(most)s characters. A quotation mark may be open."
    ),
    "row_too_wide": lazy(
        "%(cells)s cells, but there are %(columns)s columns. Put a cell that holds the delimiter "
        "between quotation marks."
    ),
    "row_too_narrow": lazy(
        "%(cells)s cells, but there are %(columns)s columns, so nobody can tell which is missing. "
        "Leave a cell empty rather than out."
    ),
    "garnish_pours": lazy(
        "“%(said)s” is poured, but stands under garnish. Put it with the ingredients; a cell that "
        "holds semicolons needs quotation marks."
    ),
    "price_unreadable": lazy("“%(said)s” is no price. Write 9.50 or leave it empty."),
    "share_unreadable": lazy(
        "“%(said)s” is no share of sales. Write a number from 0 up, or leave it empty."
    ),
    "not_yes_or_no": lazy("“%(said)s” under %(column)s is neither yes nor no."),
    "must_know_not_poured": lazy("What everybody must know has to be poured too."),
    "near_drink": lazy(
        "The book has %(drink)s. If “%(said)s” is that drink, write it so; else say that such "
        "names are new drinks."
    ),
    "name_missing": lazy("The drink has no name."),
    "name_too_long": lazy("A name with more than %(most)s characters fits on no ticket."),
    "row_twice": lazy("%(drink)s stands in this sheet twice, before in line %(earlier)s."),
    "unknown_method": lazy(
        "“%(said)s” is no method. Write build, shake, stir, blend, layer, draught, two part, open."
    ),
    "unknown_ice": lazy("“%(said)s” is no ice. Write none, light, full, crushed or nothing."),
    "unknown_module": lazy("There is no module “%(said)s”. There are: %(modules)s."),
    "misspelt_module": lazy("There is no module “%(said)s”. Did you mean %(module)s?"),
    "module_untold": lazy("Say in which module it belongs: no drink like it is in the book yet."),
    "misspelt_glass": lazy("There is no glass “%(said)s”. Did you mean the %(glass)s?"),
    "equally_near": lazy("There is no “%(said)s” here. Did you mean %(one)s or %(other)s?"),
    "menu_empty": lazy("Leave at least one drink on the menu."),
    "kind_untold": lazy(
        "Nothing in “%(said)s” says what kind of thing it is. Add it in the house book first."
    ),
    "till_empty": lazy("There is nothing in this file."),
    "till_unreadable": lazy("It stops being a table here. A quotation mark may stand alone."),
    "till_too_long": lazy("More than %(most)s rows. Split the file, by week for instance."),
    "till_columns": lazy(
        "No row among the first %(most)s names a column of items and one of quantities. "
        "Call them item and quantity, or give each size or day a column of its own."
    ),
}
"""Words for the codes of `sheet_text`, `sheet_rows`, `till_sheet`, `importing` and their verbs."""

TILL_ROWS: dict[Kind, str | Promise] = {
    Kind.SALE: lazy("sold"),
    Kind.VOID: lazy("rung up and never sold"),
    Kind.TOTAL: lazy("a total or a payment"),
    Kind.UNREADABLE: lazy("without a figure"),
}
"""What a row of a till is."""
