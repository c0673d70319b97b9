"""Every address. Each app names its own; the house's own error pages stand at the end."""

from django.urls import include, path

urlpatterns = [
    path("", include("barcourse.people.urls")),
    path("", include("recipes.urls")),
    path("", include("assessments.urls")),
    path("", include("barcourse.papers.urls")),
]

handler400 = "barcourse.people.error_pages.bad_request"
handler403 = "barcourse.people.error_pages.forbidden"
handler404 = "barcourse.people.error_pages.not_found"
handler500 = "barcourse.people.error_pages.server_error"
