from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class RecipesConfig(AppConfig):
    name = "recipes"
    label = "recipes"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from barcourse.people import wording
        from barcourse.people.signals import house_opened
        from recipes.shipped import load_into_new_house

        wording.name_kinds(
            {
                "rules_published": _("published house rules"),
                "revision_published": _("published a revision of a drink"),
                "revision_taken_back": _("took back a revision that was waiting"),
                "menu_changed": _("changed the menu or its must-knows"),
                "course_loaded": _("loaded the shipped course"),
                "bottle_out": _("said that a bottle is out"),
                "drink_out": _("took a drink off for tonight"),
                "off_lifted": _("said that what was out is there again"),
                "recipes_imported": _("took recipes in from a sheet"),
                "menu_pasted": _("made the menu from a list of what is sold"),
                "drink_added": _("added a drink to the house book"),
                "drink_card_changed": _("changed the name, place or price of a drink"),
                "drink_retired": _("took a drink off the menu for good"),
                "drink_brought_back": _("brought a retired drink back"),
                "ingredient_added": _("added an ingredient"),
                "ingredient_changed": _("changed an ingredient"),
                "ingredient_removed": _("removed an ingredient"),
                "prices_set": _("set what bottles hold and cost"),
                "label_read": _("read the label of a bottle"),
                "notes_changed": _("changed the notes of a module"),
                "lesson_added": _("added a lesson"),
                "lesson_changed": _("changed a lesson"),
                "lesson_moved": _("put the lessons of a module in another order"),
                "lesson_removed": _("removed a lesson"),
                "scenario_added": _("added a question to a lesson"),
                "scenario_changed": _("changed a question of a lesson"),
                "scenario_removed": _("removed a question of a lesson"),
            }
        )
        house_opened.connect(load_into_new_house, dispatch_uid="recipes.shipped")
