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
                "menu_changed": _("changed the menu or its must-knows"),
                "course_loaded": _("loaded the shipped course"),
            }
        )
        house_opened.connect(load_into_new_house, dispatch_uid="recipes.shipped")
