"""What kind of thing an ingredient is, told by the words of its name.

For sheets that bring an ingredient which the house doesn't have. The longest phrase decides, and
of two the one that stands last: "orange bitters" are bitters, "ginger beer" is no beer. A name
that says nothing ("house secret") is not guessed at.
"""

import re
import unicodedata

from recipes.grammar.course import fold
from recipes.grammar.ingredients import Ingredient, Kind

_PHRASES: dict[Kind, str] = {
    Kind.VODKA: "vodka",
    Kind.GIN: "gin, genever",
    Kind.RUM: "rum, rhum",
    Kind.TEQUILA: "tequila, mezcal",
    Kind.WHISKEY: "whiskey, whisky, bourbon, rye, scotch",
    Kind.BRANDY: "brandy, cognac, armagnac, calvados, pisco, grappa, eau de vie",
    Kind.OTHER_SPIRIT: "cachaça, cachaca, aquavit, akvavit, absinthe, baijiu, shochu, soju, spirit",
    Kind.LIQUEUR: "liqueur, schnapps, triple sec, curaçao, curacao, amaretto, limoncello, sambuca, "
    "maraschino, crème de, creme de, sloe gin, advocaat",
    Kind.CREAM_LIQUEUR: "cream liqueur, irish cream, rum cream",
    Kind.BITTER: "aperitif, aperitivo, amaro, red bitter",
    Kind.VERMOUTH: "vermouth, sherry, port, madeira, marsala",
    Kind.WINE: "wine, rosé",
    Kind.SPARKLING: "sparkling wine, prosecco, cava, champagne, crémant",
    Kind.BEER: "beer, lager, ale, stout, porter, pilsner, ipa, hard seltzer",
    Kind.CIDER: "cider, perry",
    Kind.LOW_NO: "alcohol free, non alcoholic, no alcohol, low alcohol, dealcoholised",
    Kind.DASH_BITTERS: "bitters",
    Kind.SODA_MIXER: "soda, tonic, cola, ginger ale, ginger beer, root beer, soda water, "
    "tonic water, sparkling water, lemonade, energy drink, seltzer, mixer",
    Kind.JUICE: "juice, nectar, still lemonade",
    Kind.CITRUS: "lime juice, lemon juice, yuzu juice",
    Kind.SYRUP: "syrup, grenadine, orgeat, falernum, cordial, honey, purée, puree, agave, "
    "coconut cream, cream of coconut, squash, shrub",
    Kind.SOUR_MIX: "sour mix, sweet and sour",
    Kind.DAIRY: "milk, cream, yoghurt, yogurt, butter",
    Kind.EGG: "egg, egg white, egg yolk, aquafaba",
    Kind.COFFEE: "coffee, espresso, cold brew, tea",
    Kind.SAUCE: "sauce, ketchup",
    Kind.FRUIT: "wedge, slice, wheel, twist, peel, zest, spiral, cherry, berry, berries, "
    "raspberry, strawberry, cucumber, watermelon",
    Kind.HERB: "mint, basil, rosemary, thyme, sage, coriander, sprig",
    Kind.RIM: "salt, rim",
    Kind.PANTRY: "sugar, coffee beans, olive, olives, brine, onion, nutmeg, cinnamon, pepper, "
    "chilli, chili",
}
_RIM_WORDS = frozenset(
    {
        "salt", "sugar", "cocoa", "chocolate", "cinnamon", "nutmeg", "pepper", "chilli", "chili",
        "ginger", "coconut", "celery", "paprika", "spice", "spiced", "sprinkle", "crumb",
    }
)  # fmt: skip
"""What a rim is of besides what is stocked for rims (common practice, no source)."""
_WHOLE = frozenset(
    {"cube", "stick", "syrup", "brine", "bean", "pod", "clove", "olive", "onion"}
)  # fmt: skip
_KIND_OF = {fold(p): kind for kind, words in _PHRASES.items() for p in words.split(",")}

TYPICAL_ABV: dict[Kind, float] = {
    # Percent by volume; typical values from memory: the label decides.
    Kind.VODKA: 40,
    Kind.GIN: 40,
    Kind.RUM: 40,
    Kind.TEQUILA: 40,
    Kind.WHISKEY: 40,
    Kind.BRANDY: 40,
    Kind.OTHER_SPIRIT: 40,
    Kind.LIQUEUR: 20,
    Kind.CREAM_LIQUEUR: 17,
    Kind.BITTER: 20,
    Kind.VERMOUTH: 17,
    Kind.WINE: 12.5,
    Kind.SPARKLING: 11.5,
    Kind.BEER: 4.5,
    Kind.CIDER: 4.5,
    Kind.DASH_BITTERS: 44,
}


def kind_of(name: str) -> Kind | None:
    """The kind that the name tells, None where it tells none."""
    words = fold(name).split()
    spans = [(s, e) for s in range(len(words)) for e in range(s + 1, len(words) + 1)]
    told = {(s, e): _KIND_OF.get(" ".join(words[s:e])) for s, e in spans}
    if Kind.LOW_NO in told.values():
        return Kind.LOW_NO  # whatever it would be otherwise
    best = max(
        (span for span in spans if told[span]), key=lambda s: (s[1] - s[0], s[1]), default=None
    )
    return told[best] if best else None


def goes_on_a_rim(item: Ingredient) -> bool:
    """Whatever is stocked for rims, and of the pantry what is ground or strewn."""
    if item.kind is Kind.RIM:
        return True
    words = {word.removesuffix("s") for word in fold(item.name).split()}
    return item.kind is Kind.PANTRY and bool(words & _RIM_WORDS) and not words & _WHOLE


def new_ingredient(name: str, taken: set[str]) -> Ingredient | None:
    """An ingredient of this name with its kind and a typical strength; None where the name tells
    no kind. Its label is unread: what allergens it has nobody knows."""
    kind, name = kind_of(name), " ".join(name.split())
    if kind is None or not 0 < len(name) <= 80:
        return None
    slug = _free(slug_of(name) or kind.value.replace("_", "-"), taken)
    return Ingredient(slug=slug, name=name, kind=kind, abv=TYPICAL_ABV.get(kind, 0.0))


def slug_of(name: str) -> str:
    """Letters and digits of the name as an address has them; empty where it has none of those."""
    plain = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode()
    return "-".join(re.findall(r"[a-z0-9]+", plain))[:56].strip("-")


def _free(stem: str, taken: set[str]) -> str:
    number, slug = 1, stem
    while slug in taken:
        number += 1
        slug = f"{stem}-{number}"
    return slug
