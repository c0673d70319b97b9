from django.apps import AppConfig


class PapersConfig(AppConfig):
    name = "barcourse.papers"
