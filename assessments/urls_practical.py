"""Addresses of what hands show beside whole builds: marks in service, pours, pace, rounds."""

from django.urls import URLPattern, path

from assessments.views import (
    builds,
    open_watches,
    pace,
    pour_policy,
    pours,
    rounds,
    several,
    spot,
    stock,
    taken_back,
    words,
)

HOUSE = "h/<slug:house>/"

urlpatterns: list[URLPattern] = [
    path(f"{HOUSE}house/pour-checks/", pour_policy.pour_policy, name="pour_policy"),
    path(f"{HOUSE}watch/stock/", stock.used, name="stock_used"),
    path(f"{HOUSE}watch/under-way/", open_watches.keep, name="keep_watch"),
    path(f"{HOUSE}watch/under-way/drop/", open_watches.drop, name="drop_watch"),
    path(f"{HOUSE}watch/together/", several.together, name="together"),
    path(f"{HOUSE}watch/service/<slug:hire>/", spot.pick, name="spot"),
    path(f"{HOUSE}watch/service/<slug:hire>/<slug:drink>/", spot.mark, name="spot_drink"),
    path(f"{HOUSE}watch/round/<slug:hire>/", rounds.watch_round, name="watch_round"),
    path(f"{HOUSE}watch/pours/<slug:hire>/", pours.check, name="pours"),
    path(f"{HOUSE}watch/pace/<slug:hire>/", pace.check, name="pace"),
    path(f"{HOUSE}builds/<slug:code>/words/erase/", words.erase_words, name="erase_words"),
    path(
        f"{HOUSE}record/builds/<slug:code>/answer/erase/",
        words.erase_answer,
        name="erase_answer",
    ),
    path(f"{HOUSE}builds/<slug:code>/take-back/", builds.take_back, name="take_back"),
    path(
        f"{HOUSE}on-record/<slug:code>/take-back/",
        taken_back.take_back,
        name="take_back_hand",
    ),
    path(f"{HOUSE}pour-checks/<slug:code>/", pours.shown, name="pour_check"),
    path(f"{HOUSE}pace-checks/<slug:code>/", pace.shown, name="pace_check"),
    path(f"{HOUSE}rounds/<slug:code>/", rounds.shown, name="round_done"),
    path(f"{HOUSE}record/pour-checks/<slug:code>/", pours.mine, name="my_pour_check"),
    path(f"{HOUSE}record/pace-checks/<slug:code>/", pace.mine, name="my_pace_check"),
    path(f"{HOUSE}record/rounds/<slug:code>/", rounds.mine, name="my_round"),
]
