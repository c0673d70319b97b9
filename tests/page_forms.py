"""Where each form of the pages in pages.py stands, and what is typed into it.

Whoever adds a form adds its line to `FORM_ON`, and to `TYPED` what makes it come to something.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.urls import reverse

from barcourse.people.roles import Role
from recipes.menu import menu_at
from recipes.proposed import sign_rules
from tests.factories.people import PASSWORD
from tests.factories.whole_house import NOW, Whole


def proposal(house: Whole) -> str:
    """What the house book signs on the first step: the house rules without a straw."""
    rules = menu_at(house.venue, NOW).rules.model_copy(update={"straw_families": ()})
    return sign_rules(house.venue, rules, None)


FORM_ON: dict[str, tuple[str, str]] = {
    "sign_in": ("sign_in", "nobody"),
    "sign_out": ("next_shift", "hire"),
    "join": ("join", "nobody"),
    "new_password": ("new_password", "nobody"),
    "shift_cards": ("shift_cards", "hire"),
    "shift_when": ("shift_when", "hire"),
    "hook": ("hook", "hire"),
    "hire_shift": ("hire_shift", "manager"),
    "rota": ("rota", "manager"),
    "shift_off": ("shift_when", "hire"),
    "hire_shift_off": ("hire_shift", "manager"),
    "module_read": ("module", "fellow"),
    "module_cards": ("module_cards", "hire"),
    "quiz_start": ("module", "fellow"),
    "quiz": ("quiz", "hire"),
    "call_start": ("call_practice", "hire"),
    "call_run": ("call_run", "hire"),
    "watch_build": ("watch_build", "trainer"),
    "sign_off": ("build", "trainer"),
    "take_back": ("build", "trainer"),
    "spot_drink": ("spot_drink", "trainer"),
    "pours": ("pours", "trainer"),
    "quiz_sheet_new": ("quiz_sheet_new", "trainer"),
    "quiz_sheet": ("quiz_sheet", "trainer"),
    "quiz_sheet_retire": ("quiz_sheet", "trainer"),
    "sheet_start": ("modules", "hire"),
    "mix_up": ("mix_up", "trainer"),
    "drill_start": ("next_shift", "hire"),
    "made_instead": ("made_instead", "trainer"),
    "try_out": ("try_out", "trainer"),
    "try_out_start": ("next_shift", "hire"),
    "void": ("build", "trainer"),
    "take_back_hand": ("take_back_hand", "trainer"),
    "erase_words": ("build", "trainer"),
    "menu_marks": ("menu_marks", "trainer"),
    "off_say": ("off_tonight", "trainer"),
    "off_lift": ("off_tonight", "trainer"),
    "house_rules_change": ("house_rules_change", "trainer"),
    "house_rules_kinds": ("house_rules_kinds", "trainer"),
    "house_rules_glasses": ("house_rules_glasses", "trainer"),
    "house_rules_ice": ("house_rules_ice", "trainer"),
    "house_rules_garnish": ("house_rules_garnish", "trainer"),
    "house_rules_words": ("house_rules_words", "trainer"),
    "house_rules_preset": ("house_rules_preset", "trainer"),
    "drink_change": ("drink_change", "trainer"),
    "book_import": ("book_import", "trainer"),
    "book_paste": ("book_paste", "trainer"),
    "drink_card": ("drink_card", "trainer"),
    "drink_take_back": ("drink", "trainer"),
    "drink_retire": ("drink_retire", "trainer"),
    "drink_new": ("drink_new", "trainer"),
    "ingredient_new": ("ingredient_new", "trainer"),
    "ingredient": ("ingredient", "trainer"),
    "ingredient_label": ("ingredient_label", "trainer"),
    "ingredient_remove": ("ingredient", "trainer"),
    "module_notes": ("module_notes", "trainer"),
    "lesson_new": ("lesson_new", "trainer"),
    "lesson_edit": ("lesson_edit", "trainer"),
    "lesson_remove": ("lesson_remove", "trainer"),
    "question_new": ("question_new", "trainer"),
    "question_edit": ("question_edit", "trainer"),
    "question_remove": ("question_remove", "trainer"),
    "certificate_issue": ("papers", "manager"),
    "certificate_revoke": ("certificate_revoke", "manager"),
    "invite": ("people", "manager"),
    "fresh_link": ("people", "manager"),
    "withdraw_invitation": ("people", "manager"),
    "password_link": ("password_link", "manager"),
    "change_role": ("person", "owner"),
    "mark_left": ("person", "owner"),
    "come_back": ("person", "owner"),
    "erase_person": ("person", "owner"),
    "house": ("house", "owner"),
    "tills": ("house", "owner"),
    "pour_policy": ("pour_policy", "owner"),
    "my_pin": ("my_pin", "hire"),
    "answer_build": ("my_build", "hire"),
    "entry_answer": ("entry", "hire"),
    "entry_erase": ("entry", "hire"),
    "entry_stands": ("to_look_at", "manager"),
    "let_stand": ("to_look_at", "manager"),
    "hand_over": ("to_look_at", "manager"),
    "mark_too": ("mark_too", "manager"),
    "see_marks": ("mark_too", "manager"),
    "side_work": ("side_work", "hire"),
    "side_work_take_back": ("side_work_take_back", "hire"),
    "side_work_edit": ("side_work_edit", "trainer"),
    "side_work_remove": ("side_work_edit", "trainer"),
    "permits": ("permits", "manager"),
    "ready_policy": ("ready_policy", "manager"),
    "once": ("once", "manager"),
    "once_end": ("once", "manager"),
    "sales_take": ("sales_take", "manager"),
    "sales_names": ("sales_mix", "manager"),
    "sales_withdraw": ("sales_mix", "manager"),
    "permit_remove": ("permits", "manager"),
    "refusals": ("refusals", "hire"),
    "refusal_erase": ("refusals", "manager"),
    "tablet_enrol": ("tablets", "manager"),
    "tablet_withdraw": ("tablets", "manager"),
    "tablet_release": ("tablets", "manager"),
    "pin_release": ("tablets", "manager"),
}
"""On which page the form stands, and in whose eyes. No page shows the form of `open_house` once
there is a house."""


def watched_now(house: Whole) -> dict[str, Any]:
    """What the script of a page of watching sends: one step tapped."""
    where = reverse("watch_build", args=[house.venue.slug, house.hire.code, house.drink])
    kept = {"by": "", "page": "", "print": "", "at": 0, "state": [True], "times": []}
    return {"where": where, "forms": [], "kept": kept, "after": ""}


TYPED: dict[str, Callable[[Whole], dict[str, Any]]] = {
    "sign_in": lambda house: {"sign_in": house.owner.person.sign_in, "password": PASSWORD},
    "open_house": lambda house: {"name": "The Long Quay"},
    "new_password": lambda house: {"password": "the-tide-comes-in-twice"},
    "join": lambda house: {"sign_in": "somebody-new", "password": PASSWORD},
    "shift_cards": lambda house: {"missed": ["glass"]},
    "hook": lambda house: {"text": "Cranberry first."},
    "shift_when": lambda house: {"day": "2026-03-14", "hour": "18:00", "minutes": "10"},
    "rota": lambda house: {"text": f"«{house.hire.name}» 14/3 18:00"},
    "hire_shift": lambda house: {"day": "2026-03-14", "hour": "18:00", "minutes": "10"},
    "quiz": lambda house: {"choice": "-1"},
    "call_run": lambda house: {"would_ask": "1"},
    "quiz_sheet_new": lambda house: {
        "name": "Saturday",
        "modules": [house.quiz.module.slug],
        "length": "8",
    },
    "mix_up": lambda house: {"hires": [house.hire.code, house.fellow.code]},
    "made_instead": lambda house: {"made": house.drill.other.slug},
    "spot_drink": lambda house: {"came": "right"},
    "pours": lambda house: {
        "pour": ["1.0", "1.02", "0.98", "1.0", "1.01"],
        "ingredient": "gin",
        "made_with": "water",
    },
    "take_back_hand": lambda house: {"reason": "Read off in the wrong unit."},
    "void": lambda house: {"reason": "The wrong glass was on the tray."},
    "menu_marks": lambda house: {f"on-{house.drink}": "off"},
    "off_say": lambda house: {"what": f"drink:{house.drink}"},
    "house_rules_change": lambda house: {"tolerance": "1/4"},
    "house_rules_kinds": lambda house: {"straw_families": ["shot"]},
    "house_rules_glasses": lambda house: {"glass_rocks_amount": "10"},
    "house_rules_ice": lambda house: {"glass": "rocks", "water": "4", "water_unit": "floz"},
    "house_rules_garnish": lambda house: {"g0_remove": "on"},
    "house_rules_words": lambda house: {"words": "pop = cola"},
    "house_rules_preset": lambda house: {"preset": "us-classic"},
    "drink_change": lambda house: {"straw": "no"},
    "book_paste": lambda house: {"menu": "«Madras» 8\n«Harbour»-«Mist» 9"},
    "book_import": lambda house: {"rows": "name,ingredients\n«Fog»,1 pour gin"},
    "drink_preview": lambda house: {"straw": "no"},
    "drink_new_preview": lambda house: {"name": "Quay Light"},
    "drink_card": lambda house: {"price": "9.50"},
    "drink_new": lambda house: {"name": "Quay Light", "parts": "50 ml gin"},
    "ingredient_new": lambda house: {"name": "Quay bitters"},
    "ingredient": lambda house: {"bottle_ml": "700"},
    "ingredient_label": lambda house: {"allergens": ["milk"]},
    "module_notes": lambda house: {"save": "1"},
    "lesson_new": lambda house: {"name": "Kegs", "body": "Two people.", "save": "1"},
    "lesson_edit": lambda house: {"save": "1"},
    "lesson_move": lambda house: {"way": "up"},
    "lesson_remove": lambda house: {"sure": "on"},
    "question_new": lambda house: {
        "question": "A keg?",
        "choices": "Alone\nTwo people",
        "right": "1",
        "why": "Backs.",
    },
    "question_edit": lambda house: {"right": "0"},
    "question_remove": lambda house: {"sure": "on"},
    "touched_typed": lambda house: {"proposed": proposal(house)},
    "certificate_revoke": lambda house: {"reason": "Issued for the wrong station."},
    "invite": lambda house: {"names": "Rasa"},
    "change_role": lambda house: {"role": Role.TRAINER},
    "erase_person": lambda house: {"sure": "on"},
    "house": lambda house: {"pass_mark": "85"},
    "tills": lambda house: {"rings_up": ["beer-point"]},
    "pour_policy": lambda house: {"least_pours": "4"},
    "refusals": lambda house: {"what": "no_proof", "words": "«Two guests.»"},
    "sales_take": lambda house: {"rows": "item,quantity\nGin tonic,3\n"},
    "sales_names": lambda house: {"drink": house.drink},
    "ready_policy": lambda house: {"least_right": "85", "look": "1"},
    "once": lambda house: {"day": "2026-03-13", "part": "early", "reason": "«One is ill.»"},
    "permits": lambda house: {"member": house.hire.code, "kind": "food", "number": "«77»"},
    "side_work": lambda house: {"done": [house.side_task.code]},
    "side_work_take_back": lambda house: {"reason": "Slip."},
    "side_work_edit": lambda house: {"station": "well", "when": "opening", "text": "«Mats»"},
    "answer_build": lambda house: {"words": "«It was the house glass.»", "disagrees": "yes"},
    "entry_answer": lambda house: {"words": "«Ines made it.»"},
    "decide_plan": lambda house: {"plan": "show"},
    "my_pin": lambda house: {"password": PASSWORD, "pin": "4917", "again": "4917"},
    "tablet_enrol": lambda house: {"name": "Quay end"},
    "keep_watch": watched_now,
}
"""What is typed or tapped into the form as it stands on its page."""
