from django.urls import URLPattern, URLResolver, path

from assessments.views import builds, cards, learn, quiz, ready, records, touched, watch

HOUSE = "h/<slug:house>/"

urlpatterns: list[URLPattern | URLResolver] = [
    path(f"{HOUSE}shift/", learn.next_shift, name="next_shift"),
    path(f"{HOUSE}cards/", cards.shift_cards, name="shift_cards"),
    path(f"{HOUSE}modules/", learn.modules, name="modules"),
    path(f"{HOUSE}modules/<slug:module>/", learn.module, name="module"),
    path(f"{HOUSE}modules/<slug:module>/read/", learn.read, name="module_read"),
    path(f"{HOUSE}modules/<slug:module>/cards/", cards.module_cards, name="module_cards"),
    path(f"{HOUSE}modules/<slug:module>/quiz/", quiz.start, name="quiz_start"),
    path(f"{HOUSE}modules/<slug:module>/lessons/<slug:lesson>/", learn.lesson, name="lesson"),
    path(f"{HOUSE}quiz/<slug:code>/", quiz.item, name="quiz"),
    path(f"{HOUSE}quiz/<slug:code>/result/", quiz.result, name="quiz_result"),
    path(f"{HOUSE}record/", records.mine, name="my_record"),
    path(f"{HOUSE}record/builds/<slug:code>/", builds.mine, name="my_build"),
    path(f"{HOUSE}hires/<slug:code>/", records.hire, name="hire_record"),
    path(f"{HOUSE}watch/", watch.pick, name="watch"),
    path(f"{HOUSE}watch/<slug:hire>/", watch.pick_drink, name="watch_hire"),
    path(f"{HOUSE}watch/<slug:hire>/<slug:drink>/", watch.build, name="watch_build"),
    path(f"{HOUSE}builds/<slug:code>/", builds.shown, name="build"),
    path(f"{HOUSE}builds/<slug:code>/sign-off/", builds.sign_off, name="sign_off"),
    path(f"{HOUSE}builds/<slug:code>/void/", builds.void, name="void"),
    path(f"{HOUSE}ready/", ready.board_page, name="who_is_ready"),
    path(f"{HOUSE}touched/", touched.typed, name="touched_typed"),
    path(f"{HOUSE}touched/<slug:moment>/", touched.waiting, name="touched_waiting"),
]
