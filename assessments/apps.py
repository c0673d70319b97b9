from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class AssessmentsConfig(AppConfig):
    name = "assessments"
    label = "assessments"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from barcourse.people import wording

        wording.name_kinds(
            {
                "quiz_finished": _("a quiz finished"),
                "build_watched": _("a build watched"),
                "signed_off": _("a build signed off"),
                "build_voided": _("a watched build voided"),
            }
        )
