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
