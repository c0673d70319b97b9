from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class PapersConfig(AppConfig):
    name = "barcourse.papers"
    label = "papers"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from barcourse.people import wording

        wording.name_kinds(
            {
                "certificate_issued": _("issued a certificate to"),
                "certificate_revoked": _("revoked a certificate of"),
            }
        )
