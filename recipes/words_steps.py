"""The steps of a build: what to do, in the imperative, and why.

Times and signs ("until the tin frosts") are common practice, no source.
"""

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as lazy

DOES: dict[str, str | Promise] = {
    "do_glass": lazy("Take the right glass: %(glass)s, %(size)s"),
    "do_bottle": lazy("Take the right one: %(glass)s, cold, seal whole"),
    "do_clean_glass": lazy("Hold it to the light: clean, whole, no chip"),
    "do_rinse": lazy("Rinse the glass with cold water"),
    "do_rim": lazy("Wet the edge with %(wet_with)s, then dip it in %(item)s"),
    "do_half_rim": lazy("Wet half of the edge with %(wet_with)s, then dip that half in %(item)s"),
    "do_first_in": lazy("%(part)s first, before any ice"),
    "do_muddle": lazy("Muddle %(part)s"),
    "do_scoop": lazy("Ice by the scoop: no hand, no glass in the bin"),
    "do_ice_full": lazy("Full scoop of ice, to the top"),
    "do_ice_light": lazy("Light ice: half of what a full glass takes"),
    "do_ice_crushed": lazy("Crushed ice, to the top"),
    "do_pour": "%(part)s",
    "do_pour_by": lazy("%(part)s, %(by)s"),
    "do_layer": lazy("%(part)s, slowly over the back of a spoon"),
    "do_open": lazy("Open %(item)s"),
    "do_dash": "%(part)s",
    "do_shake": lazy("Shake hard with ice until the tin frosts"),
    "do_stir": lazy("Stir with ice until it is cold right through"),
    "do_strain": lazy("Strain into the glass"),
    "do_blender_ice": lazy("Measured ice into the blender, with the scoop"),
    "do_blend": lazy("Lid on, then blend until smooth"),
    "do_top": lazy("%(item)s to the top"),
    "do_top_part": lazy("%(item)s: %(share)s of the space"),
    "do_draw": lazy("%(item)s from the tap: tilt the glass, open the tap right up, straighten"),
    "do_draw_part": lazy("%(item)s: %(share)s of the glass, down the tilted side"),
    "do_nozzle": lazy("Keep the nozzle off the glass and out of the beer"),
    "do_settle": lazy("Stop at three quarters, let it settle, then top it up"),
    "do_head": lazy("Finish with the head that the house wants"),
    "do_float": lazy("%(part)s last, on top; don't stir"),
    "do_straw": lazy("Straw in"),
    "do_garnish_always": lazy("Garnish: %(item)s"),
    "do_garnish_on_request": lazy("%(item)s only if the guest asks"),
    "do_garnish_ask": lazy("Ask the guest: %(item)s?"),
    "do_no_garnish": lazy("No garnish"),
    "do_back": lazy("Beside it, in a glass of its own (%(glass)s): %(item)s"),
    "do_serve": lazy("Set it down and say its name"),
}

WHY: dict[str, str | Promise] = {
    "why_right_glass": lazy(
        "The glass sets how much goes in and how strong it tastes. Another glass, another drink."
    ),
    "why_right_bottle": lazy("Labels look alike in dim light. Another bottle is another drink."),
    "why_clean_glass": lazy(
        "A chip cuts, and a dirty edge is the first thing that the guest tastes. "
        "Chipped glass goes in the glass bin."
    ),
    "why_rinse": lazy("A cold, wet wall keeps the head fine and lets the beer slide in."),
    "why_rim_before_ice": lazy("Once the ice is in, the glass can't be turned over."),
    "why_under_the_ice": lazy("It must lie under the ice. Poured later, it is another drink."),
    "why_muddle_gently": lazy("Press, don't shred: torn leaves and white pith turn it bitter."),
    "why_ice_is_food": lazy(
        "Ice is food. Glass that breaks in the bin means: empty it all, melt, wash, refill."
    ),
    "why_ice_full": lazy(
        "Every cube left out is room that the mixer takes: less ice tastes weaker, never stronger."
    ),
    "why_ice_light": lazy("This one wants more mixer. The alcohol is the same."),
    "why_ice_crushed": lazy("Crushed ice chills fast and melts into the drink as it stands."),
    "why_measured": lazy(
        "This pour is the drink's strength and its cost. Right is neither under nor over."
    ),
    "why_balance": lazy(
        "Sweet, sour and strong hold each other: too much of one spoils all three."
    ),
    "why_opened": lazy("Opened for this guest, nothing else can have got into it."),
    "why_layer": lazy("Heavy lies under light. Poured fast, they mix and won't part again."),
    "why_dash": lazy("Small, but the guest notices when it is missing."),
    "why_shake": lazy("It chills, thins and mixes in one go. Juice, cream and egg need it."),
    "why_stir": lazy("It chills and thins without clouding the drink."),
    "why_strain": lazy("That ice is spent. The guest gets fresh ice, or none."),
    "why_blender_ice": lazy("This ice is part of the drink: too little is thin, too much is snow."),
    "why_blend": lazy("Lumps block the straw. An open lid paints the wall."),
    "why_to_the_top": lazy("Filled to the top, it tastes as the house means it to."),
    "why_leave_room": lazy("The mixers share the space. Leave room for the next one."),
    "why_tilt": lazy("Down the side it stays calm. Straight in, it foams and runs away."),
    "why_nozzle": lazy(
        "A nozzle that has been in beer dirties the next glass. "
        "Never serve what is in the drip tray."
    ),
    "why_settle": lazy("The fine bubbles need time to rise. Hurried, the head collapses."),
    "why_head": lazy(
        "The head holds the smell of the beer. "
        "Where the law or the guest wants it fuller, top it up."
    ),
    "why_float_last": lazy(
        "Last on, it makes the look and the first sip. Sooner or stirred, it is another drink."
    ),
    "why_straw": lazy("The house decides which drinks get one. Local law may say which kind."),
    "why_garnish_always": lazy("This one always carries it: people tell drinks apart by it."),
    "why_garnish_on_request": lazy("It doesn't go on by itself, but a guest who asks gets it."),
    "why_garnish_ask": lazy("The house leaves this choice to the guest."),
    "why_no_garnish": lazy("The house puts nothing on this one. A guest who asks gets it."),
    "why_back": lazy("A back is drunk beside the drink. Poured into it, it is another drink."),
    "why_say_the_name": lazy("Said aloud, a mix-up is caught before it is drunk."),
}
