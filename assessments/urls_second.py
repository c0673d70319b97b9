"""Addresses of what others say to a record: answers, second marks, what a manager looks at."""

from django.urls import URLPattern, path

from assessments.views import both_marks, entries, open_watches, second_look

HOUSE = "h/<slug:house>/"
ENTRY = f"{HOUSE}record/entries/<slug:code>/"

urlpatterns: list[URLPattern] = [
    path(f"{HOUSE}record/builds/<slug:code>/answer/", second_look.answer, name="answer_build"),
    path(ENTRY, entries.page, name="entry"),
    path(f"{ENTRY}answer/", entries.answer, name="entry_answer"),
    path(f"{ENTRY}words/erase/", entries.erase, name="entry_erase"),
    path(f"{HOUSE}to-look-at/answers/<slug:code>/stands/", entries.settle, name="entry_stands"),
    path(f"{HOUSE}watch/second/", second_look.second_marks, name="second_marks"),
    path(f"{HOUSE}builds/<slug:code>/second/", second_look.mark_too, name="mark_too"),
    path(f"{HOUSE}builds/<slug:code>/both/", both_marks.both_marks, name="both_marks"),
    path(f"{HOUSE}builds/<slug:code>/marks/", second_look.see_marks, name="see_marks"),
    path(f"{HOUSE}to-look-at/", second_look.look_at, name="to_look_at"),
    path(f"{HOUSE}to-look-at/<slug:code>/stands/", second_look.let_stand, name="let_stand"),
    path(f"{HOUSE}to-look-at/begun/drop/", open_watches.drop_left, name="drop_left_watch"),
    path(f"{HOUSE}to-look-at/<slug:trainer>/hand-over/", second_look.hand_over, name="hand_over"),
    path(
        f"{HOUSE}to-look-at/<slug:hire>/<slug:drink>/plan/",
        second_look.decide_plan,
        name="decide_plan",
    ),
]
