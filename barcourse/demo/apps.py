from django.apps import AppConfig


class DemoConfig(AppConfig):
    name = "barcourse.demo"
    label = "demo"
