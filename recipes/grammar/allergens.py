"""The allergen words that an ingredient may carry.

Regulation (EU) No 1169/2011 annex II names fourteen; the United States name nine (FALCPA 2004,
FASTER Act 2021). The words are kept apart where the two differ: wheat is one of the gluten
cereals in the EU list and stands by itself in the US list.
"""

EU_14 = frozenset(
    {
        "gluten",
        "crustaceans",
        "eggs",
        "fish",
        "peanuts",
        "soybeans",
        "milk",
        "nuts",
        "celery",
        "mustard",
        "sesame",
        "sulphites",
        "lupin",
        "molluscs",
    }
)
US_9 = frozenset(
    {"milk", "eggs", "fish", "crustaceans", "nuts", "peanuts", "wheat", "soybeans", "sesame"}
)
ALLERGENS = EU_14 | US_9

LAWS: dict[str, frozenset[str]] = {
    "us": US_9,
    # Great Britain kept the fourteen in its own law (from memory).
    "gb": EU_14,
    "ie": EU_14,
    "eu": EU_14,
}
"""The list of a house's country, as `Venue.country` has it; the others have lists of their own."""


def listed(country: str) -> frozenset[str]:
    """The allergens that must be named in this country; for a country whose list we don't have,
    everything that either list names, so that nothing is missing."""
    return LAWS.get(country, ALLERGENS)
