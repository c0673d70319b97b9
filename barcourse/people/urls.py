from django.urls import URLPattern, URLResolver, path

urlpatterns: list[URLPattern | URLResolver] = []
