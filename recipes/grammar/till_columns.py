"""Which column of a till's export holds what: by its name, by its cells, or as somebody chose."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from recipes.grammar import till_cells
from recipes.grammar.course import fold

Rows = Sequence[tuple[int, Sequence[str]]]
Chosen = Mapping[str, str]
"""Columns that somebody chose: the name in the file by what it holds, "" for none."""
_SEEN, NEARLY_ALL = 200, 0.9
"""Rows in which a column of days is looked for, and the share of cells that must be one."""

MARKS = ("status", "state", "type", "line type", "transaction type", "item status")
"""Columns that say what a row is, and never count anything."""
_OFF = ("void", "voids", "voided", "return", "returns", "returned", "refund", "refunds", "refunded",
        "cancelled", "canceled", "cancels", "cancellations", "deleted", "removed", "storno",
        "stornos", "storniert", "retoure", "retouren", "annulé", "annulés", "anulado")  # fmt: skip
_COUNTED = ("{}", "{} qty", "qty {}", "{} quantity", "quantity {}", "{} count", "{} items",
            "items {}", "units {}", "number {}", "no {}")  # fmt: skip

COLUMNS: dict[str, tuple[str, ...]] = {
    "item": (
        "item", "item name", "menu item", "product", "product name", "drink", "article",
        "article name", "name", "description", "item description", "plu name", "artikel",
        "artikelname", "bezeichnung", "produkt", "produit", "designation", "désignation",
        "libellé", "articulo", "artículo", "producto", "prodotto", "articolo",
    ),
    "quantity": (
        "quantity", "qty", "qty sold", "quantity sold", "net qty", "net quantity", "sold",
        "units", "units sold", "items sold", "item qty", "count", "number sold", "no sold",
        "menge", "anzahl", "verkauft", "stück", "quantité", "quantite", "qté", "cantidad",
        "unidades", "quantità", "quantita",
    ),
    "size": ("size", "variant", "variation", "portion", "modifier", "modifiers", "price level",
             "serving", "größe", "taille", "tamaño", "formato"),
    "date": ("date", "day", "business date", "business day", "sale date", "sold on", "order date",
             "date time", "datetime", "timestamp", "sold at", "opened", "when", "datum", "fecha",
             "data"),
    "hour": ("hour", "time", "hour of day", "time of day", "order time", "sale time", "stunde",
             "uhrzeit", "zeit", "heure", "hora", "ora"),
    "order": ("order", "order id", "order no", "order number", "check", "check no",
              "check number", "check id", "receipt", "receipt no", "receipt number", "ticket",
              "ticket no", "ticket number", "transaction", "transaction id", "bill", "bill no",
              "bon", "bon nr", "beleg", "belegnr", "ticket nº", "commande"),
    "status": (*MARKS, *(way.format(off) for way in _COUNTED for off in _OFF)),
}  # fmt: skip


def places_of(names: Sequence[str]) -> dict[str, int]:
    """A name that stands earlier in `COLUMNS` wins over later ones."""
    found: dict[str, int] = {}
    for what, known in COLUMNS.items():
        for name in known:
            at = names.index(fold(name)) if fold(name) in names else -1
            if at >= 0 and at not in found.values():
                found[what] = at
                break
    return found


def column_of(body: Rows, place: int) -> list[str]:
    """What stands in a column's first rows, without its empty cells."""
    column = (row[place].strip() for _n, row in body[:_SEEN] if place < len(row))
    return [cell for cell in column if cell]


def days_by_cells(
    body: Rows, places: Mapping[str, int], names: Sequence[str], rank: Callable[[str], int]
) -> dict[str, int]:
    """A column of days under a name that nobody knows, or that says hours: nearly all that stands
    in it is a day. One with the hour beside it tells both; "10.05.30" is an hour there. Of several
    one that says hours is taken, else the first by the `rank` of its name."""
    free = {*range(len(names))} - {place for what, place in places.items() if what != "hour"}
    order = sorted(free, key=lambda p: (p != places.get("hour"), rank(names[p]), p))
    for place in order:
        cells = column_of(body, place)
        of_hours = place == places.get("hour")
        days = sum(
            till_cells.is_day(cell) and (not of_hours or _is_no_clock(cell)) for cell in cells
        )
        enough = len(cells) > 1 or of_hours
        if cells and enough and days >= NEARLY_ALL * len(cells):
            return {"date": place}
    return {}


def _is_no_clock(cell: str) -> bool:
    """It has a year of four figures, or the hour beside it."""
    return bool(re.search(r"\d{4}", cell)) or till_cells.hour_of(cell) is not None


def as_chosen(places: Mapping[str, int], names: Sequence[str], chosen: Chosen) -> dict[str, int]:
    """A column holds one thing: what somebody chose takes it from what was found."""
    picked = {w: names.index(n) for w, n in chosen.items() if w in COLUMNS and n in names and n}
    kept = {
        what: place
        for what, place in places.items()
        if what not in chosen and place not in picked.values()
    }
    return kept | picked
