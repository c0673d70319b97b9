from django.urls import URLPattern, URLResolver, path

from . import ready_page, ticket_page, views, views_records

urlpatterns: list[URLPattern | URLResolver] = [
    path("paper/<slug:code>/", views.check_paper, name="check_paper"),
    path("h/<slug:house>/my-papers/", views.my_papers, name="my_papers"),
    path("h/<slug:house>/papers/", views.papers, name="papers"),
    path(
        "h/<slug:house>/papers/certificate/",
        views.certificate_issue,
        name="certificate_issue",
    ),
    path(
        "h/<slug:house>/papers/certificate/<slug:code>.pdf",
        views.certificate_pdf,
        name="certificate_pdf",
    ),
    path(
        "h/<slug:house>/papers/certificate/<slug:code>/revoke/",
        views.certificate_revoke,
        name="certificate_revoke",
    ),
    path("h/<slug:house>/papers/folder.pdf", views_records.folder_pdf, name="folder_pdf"),
    path("h/<slug:house>/papers/folder.csv", views_records.folder_csv, name="folder_csv"),
    path(
        "h/<slug:house>/hires/<slug:code>/training-record.pdf",
        views_records.record_pdf,
        name="training_record_pdf",
    ),
    path(
        "h/<slug:house>/hires/<slug:code>/training-record.csv",
        views_records.record_csv,
        name="training_record_csv",
    ),
    path("h/<slug:house>/ready/board.pdf", ready_page.ready_pdf, name="ready_pdf"),
    path("h/<slug:house>/ready/board.csv", ready_page.ready_csv, name="ready_csv"),
    path("h/<slug:house>/ready/tasks.pdf", ready_page.tasks_pdf, name="ready_tasks_pdf"),
    path("h/<slug:house>/ready/tasks.csv", ready_page.tasks_csv, name="ready_tasks_csv"),
    path("h/<slug:house>/papers/ticket.pdf", ticket_page.ticket_pdf, name="ticket_pdf"),
    path(
        "h/<slug:house>/papers/handout/<slug:module>.pdf",
        views.handout_pdf,
        name="handout_pdf",
    ),
    path(
        "h/<slug:house>/papers/look-alikes/<slug:module>.pdf",
        views.lookalike_map_pdf,
        name="lookalike_map_pdf",
    ),
]
