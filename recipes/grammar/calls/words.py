"""The words of a call that belong to no house: how many, how big, how served, what to change.

English as guests and tills speak it (common practice, no source). What a word for a thing means is
the house's: its names, its other names, its slang.
"""

from __future__ import annotations

from enum import StrEnum


class Sign(StrEnum):
    """What a closed word does in a call."""

    COUNT = "count"
    ARTICLE = "article"
    AND = "and"
    FILLER = "filler"
    ONLY = "only"  # "only ice": nothing else goes on it
    FRESH = "fresh"
    ALL = "all"
    OP = "op"  # says a change by itself
    NO = "no"
    EXTRA = "extra"
    LIGHT = "light"
    WITH = "with"
    ON_TOP = "on_top"
    IN = "in"
    SPLASH = "splash"
    DASH = "dash"
    BACK = "back"
    SIDE = "side"
    ICE = "ice"
    GARNISH = "garnish"
    STRAW = "straw"
    RIM = "rim"
    CUT = "cut"
    STEP = "step"
    GLASS_OF = "glass_of"
    GLASS = "glass"
    PLACE = "place"  # where it goes: "table 5"
    RETHINK = "rethink"  # what was called before may not be wanted any more
    UNSOLD = "unsold"  # a drink of the house's book that is not on the menu
    ELSEWHERE = "elsewhere"  # a drink of the trade, where this house has none of that name


COUNTS: dict[str, int] = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "another": 1, "one more": 1,
    "another one": 1, "couple": 2, "a couple": 2, "a couple of": 2, "couple of": 2, "a pair of": 2,
    "pair of": 2, "dozen": 12, "a dozen": 12, "half a dozen": 6, "a half dozen": 6,
    "two more": 2, "three more": 3, "four more": 4, "2 more": 2, "3 more": 3, "4 more": 4,
}  # fmt: skip

POURED: dict[str, str] = {"7": "lemon lime soda", "seven": "lemon lime soda"}
"""Numbers that right after a spirit are what it is topped with (trade usage, no source)."""
THOSE = frozenset({"of those", "of these", "of the same", "of them"})
"""After a number: of the drink before."""
AGAIN = frozenset({
    "another", "another one", "one more", "two more", "three more", "four more", "2 more", "3 more",
    "4 more",
})  # fmt: skip
"""Counts that say: of the same."""

_OPS: dict[str, str] = {
    # Sizes
    "double": "double", "dbl": "double", "dble": "double", "dub": "double", "dubble": "double",
    "double shot of": "double shot", "triple": "triple",
    "trpl": "triple", "single": "single", "sgl": "single", "sngl": "single", "tall": "tall",
    "in a tall glass": "tall", "in tall glass": "tall", "tall glass": "tall", "short": "short",
    "shrt": "short", "in a short glass": "glass:rocks", "in short glass": "glass:rocks",
    "short glass": "glass:rocks", "short glass of": "glass:rocks",
    "half": "half", "half pint": "half", "half pint of": "half", "half a pint": "half",
    "half a pint of": "half", "half of": "half", "half a": "half", "pint": "pint",
    "pint of": "pint", "pt": "pint", "in a pint": "tall",
    # Of wine
    "small": "measure:small", "medium": "measure:medium", "large": "measure:large",
    "carafe": "measure:carafe", "carafe of": "measure:carafe", "half carafe": "measure:carafe",
    "half carafe of": "measure:carafe", "half a carafe": "measure:carafe",
    "half a carafe of": "measure:carafe",
    # Served
    "neat": "neat", "straight": "neat", "no mixer": "neat", "rocks": "rocks", "rks": "rocks",
    "rox": "rocks", "on the rocks": "rocks", "on rocks": "rocks", "over ice": "rocks",
    "on ice": "rocks", "otr": "rocks", "up": "up", "served up": "up", "straight up": "straight_up",
    "shot": "shot", "shot of": "shot", "as a shot": "shot", "shooter": "shot",
    "shooter of": "shot", "sht": "shot", "bottle": "bottle", "bottle of": "bottle",
    "bottled": "bottle", "btl": "bottle", "can of": "can", "canned": "can", "in a can": "can",
    "can": "can",
    "draught": "draught", "draft": "draught", "drft": "draught", "on tap": "draught",
    "on draught": "draught", "on draft": "draught", "from the tap": "draught",
    # Without alcohol
    "virgin": "virgin", "alcohol free": "virgin", "non alcoholic": "virgin",
    "nonalcoholic": "virgin", "without alcohol": "virgin", "no alcohol": "virgin",
    "no booze": "virgin", "na": "virgin", "af": "virgin",
    "zero alcohol": "virgin", "without the alcohol": "virgin",
    # Martinis
    "dirty": "dirty", "dry": "dry", "extra dry": "extra_dry",
    "very dry": "extra_dry", "bone dry": "extra_dry",
    # In a blender
    "blended": "blended", "frozen": "blended",
    # Ice
    "crushed ice": "crushed_ice", "with crushed ice": "crushed_ice", "light ice": "light_ice",
    "lt ice": "light_ice", "ltice": "light_ice", "easy ice": "light_ice",
    "full ice": "full_ice", "bit of ice": "light_ice", "with a bit of ice": "light_ice",
    "cold": "cold", "ice cold": "cold", "chilled": "cold", "nice and cold": "cold",
    "noice": "no_ice", "mixer": "any_mixer", "a mixer": "any_mixer", "ice and a slice": "slice",
    "ice and slice": "slice", "with ice and a slice": "slice", "no ice and a slice": "no_ice_slice",
    # Finish
    "salt rim": "rim:salt", "salted rim": "rim:salt", "salty": "rim:salt", "salted": "rim:salt",
    "rim of salt": "rim:salt", "sugar rim": "rim:rim-sugar", "sugared rim": "rim:rim-sugar",
    "full salt": "rim:salt",
}  # fmt: skip

_SIGNS: dict[Sign, str] = {
    Sign.ARTICLE: "a|an",
    Sign.AND: "and|plus|also|n|then|along with|as well as|followed by|but",
    Sign.ALL: "all|both|each|all of them|both of them|everything|all with|both with|each with",
    Sign.NO: "no|without|hold|hold the|skip|skip the|minus|instead of|rather than|leave out|"
    "leave off|leave out the|leave off the|lose the|omit|not|sans|zero|dont want|without any|"
    "no more|hold any",
    Sign.EXTRA: "extra|xtra|ex|lots of|plenty of|loads of|more|a lot of|heavy on|heavy on the",
    Sign.LIGHT: "light|easy|easy on|easy on the|go easy on|go easy on the|light on|light on the|"
    "less|little|not much|not too much|just a little|a little|a little bit of|only a little|lt|"
    "lite",
    Sign.WITH: "with|but with|w|with some|with a bit of|garnished with|topped with",
    Sign.ON_TOP: "on top|on the top",
    Sign.ONLY: "just|only",
    Sign.FRESH: "fresh|freshly squeezed",
    Sign.IN: "in|round of|a round of",
    Sign.SPLASH: "splash|splash of|a splash|a splash of|touch of|a touch of|drop of|a drop of|"
    "hint of|a hint of|spl|splsh",
    Sign.DASH: "dash|dash of|a dash of|few dash of|a few dash of",
    Sign.BACK: "back|chaser|on the back|to chase",
    Sign.SIDE: "on the side|on side|the side",
    Sign.ICE: "ice|ice cube|cube",
    Sign.GARNISH: "garnish|fruit|veg",
    Sign.STRAW: "straw",
    Sign.PLACE: "table|seat|table number|seat number|table no|tab",
    Sign.RIM: "rim|rimmed|on the rim",
    Sign.CUT: "wedge|slice|wheel|spiral|sprig|squeeze|piece|wedge of|slice of|wheel of|spiral of|"
    "sprig of|squeeze of|piece of|leaf of|twist of|peel|zest|peel of",
    Sign.STEP: "house|well|rail|hse|call|premium|top shelf|prem|call brand|good",
    Sign.ELSEWHERE: "half and half|gin fizz|sloe gin fizz|black velvet|red beer|green tea|"
    "green tea shot|white tea|white tea shot|washington apple|lemon drop|lemon drop martini|"
    "melon ball|apple martini|passion fruit martini|french martini|chocolate martini|irish coffee|"
    "white lady|pink gin|gin and it|gin buck|orange blossom|blue lagoon|black and tan",
    Sign.RETHINK: "actually|actually no|make it|make that|actually make it|actually make that|"
    "no make it|no make that|change it to|change that to|change it for|change that for|"
    "swap it for|swap that for|switch it to|switch that to|turn it into|scratch that|forget that|"
    "no wait|wait no|sorry|oh sorry|i mean|i meant|or rather|on second thought|on second thoughts",
    Sign.GLASS_OF: "glass of|glass|mug of|measure of|measure|pour of|cup of",
}
STEPS_UP = {"call": "call", "call brand": "call", "premium": "premium", "prem": "premium",
            "top shelf": "premium", "good": "premium"}  # fmt: skip
"""Steps above the house's pour. Which bottle that is the house says: each stands on a step."""
SAID_AFTER = frozenset(STEPS_UP) - {"good"} | {"house", "well", "rail", "hse"}
"""Steps that are said behind a drink too; "good" may be about anything there."""

_POLITE = (
    "please|pls|plz|thanks|thank you|thank you very much|thanks very much|cheers|ta|mate|sir|maam|"
    "madam|love|buddy|pal|friend|my friend|boss|barkeep|bartender|hi|hello|hey|hiya|good evening|"
    "evening|good morning|good afternoon|excuse me|um|uh|er|erm|hmm|oh|ok|okay|yeah|yes|yep|"
    "right|so|well have|can i|can we|can you|can he|can she|can they|"
    "i|we|you|he|she|they|me|us|them|him|her|it|my|"
    "our|your|this|these|that|those|of those|of these|of the same|of them|the|some|of|for|to|is|"
    "are|be|was|do|could|may|might|shall|"
    "would|should|will|id|ill|wed|im|were|youd|hed|shed|theyd|hell|shell|theyll|youll|let|lets|get|getting|got|grab|"
    "grabbing|have|having|had|take|taking|like|love to have|want|wanted|wanna|need|give|gimme|"
    "make|making|made|pour|fix|do me|order|ordering|serve|served|serving|bring|send|start|"
    "start with|there|here|now|when you get a chance|when youre ready|if i may|if possible|"
    "if you can|if you dont mind|when you can|when you have a second|"
    "when you have a minute|when you have a moment|"
    "when you have a chance|when you get a second|when you get a minute|no rush|no hurry|whenever|"
    "thats all|thats it|that is all|and thats it|"
    "and thats all|and thats everything|"
    "trouble you for|bother you for|times|"
    "for my friend|for me|for us|for my wife|for my husband|for my mate|for the lady|"
    "for the gentleman|for her|for him|how about|what about|go for|go with|ill go with|"
    "on it|in it|on that|in that|with that|kindly|quick|real quick|quickly|drink|drinks|order of|"
    "tonight|today|first|nice"
)
"""Said to the bartender, not about the drink."""

BEER_GLASS = "beer_glass"
"""How a beer in one of the house's glasses is kept among the changes: "a schooner of lager"."""
SAID_IN_UNITS = "ml"
"""Stands behind a measure that was said with its unit; "a 175" is of wine alone."""
BOTTLED = {"bottle": "open", "can": "open"}

SOBER = {
    "nojito": "virgin mojito", "nogroni": "virgin negroni", "nosecco": "virgin prosecco",
}  # fmt: skip
"""A drink without its alcohol in one word, a slip away from the drink with it (common practice, no
source)."""

TILL: dict[str, str] = {
    # Short forms on tickets: taken for the word where the house has the word.
    "vod": "vodka", "vdk": "vodka", "vdka": "vodka", "teq": "tequila", "tql": "tequila",
    "tequ": "tequila", "whsk": "whiskey", "whsky": "whiskey", "whis": "whiskey", "wsky": "whiskey",
    "whk": "whiskey", "bourb": "bourbon", "brbn": "bourbon", "brb": "bourbon", "cog": "cognac",
    "brdy": "brandy", "bdy": "brandy", "crn": "cran", "cranb": "cran", "crnbry": "cranberry",
    "ton": "tonic", "tnc": "tonic", "tonc": "tonic", "sod": "soda", "sda": "soda", "cl": "cola",
    "grpfrt": "grapefruit", "gfruit": "grapefruit", "grape": "grapefruit", "gpft": "grapefruit",
    "pineap": "pineapple", "pnapl": "pineapple", "ging": "ginger", "gngr": "ginger",
    "gnger": "ginger", "lemade": "lemonade", "lmnade": "lemonade",
    "org": "orange", "orng": "orange",
    "ojuice": "oj", "tom": "tomato", "bld": "bloody", "mrg": "marg", "lgr": "lager", "lag": "lager",
    "cdr": "cider", "nrg": "energy", "ia": "pale ale", "sprk": "sparkling", "wht": "white",
    "rd": "red", "lmn": "lemon", "lme": "lime", "lm": "lime", "grn": "garnish", "garn": "garnish",
    "strw": "straw", "xlime": "extra lime", "mart": "martini", "manh": "manhattan",
    "marga": "margarita", "cosm": "cosmo", "amar": "amaretto", "irsh": "irish", "bbn": "bourbon",
}  # fmt: skip

SPOKEN: dict[str, str] = {
    # Said for another call; each counts only where the other one is known.
    "g t": "gin tonic", "g and t": "gin tonic", "gt": "gin tonic", "gandt": "gin tonic",
    "gnt": "gin tonic", "v and t": "vodka tonic", "v and s": "vodka soda", "vs": "vodka soda",
    "vt": "vodka tonic", "r and c": "rum cola", "rc": "rum cola", "oj": "orange juice",
    "pineapple juice": "pineapple juice", "lit": "long island iced tea",
    "liit": "long island iced tea", "w and c": "whiskey cola",
}  # fmt: skip


def closed_words() -> dict[str, tuple[Sign, str | int]]:
    """Every phrase with what it does, and its value."""
    found: dict[str, tuple[Sign, str | int]] = dict.fromkeys(_POLITE.split("|"), (Sign.FILLER, ""))
    for sign, words in _SIGNS.items():
        for word in words.split("|"):
            found[word] = (sign, word)
    found |= {word: (Sign.COUNT, number) for word, number in COUNTS.items()}
    found |= {word: (Sign.OP, op) for word, op in _OPS.items()}
    return found
