from django.urls import include, path

from .views import door, house, join, log, people, permits, refusals, side_work, tablets

house_pages = [
    path("", door.house_door, name="house_door"),
    path("people/", people.people, name="people"),
    path("people/invite/", people.invite, name="invite"),
    path("people/invited/", people.just_invited, name="just_invited"),
    path("people/invitations/<slug:code>/link/", people.fresh_link, name="fresh_link"),
    path(
        "people/invitations/<slug:code>/withdraw/",
        people.withdraw_invitation,
        name="withdraw_invitation",
    ),
    path("people/<slug:code>/", people.person, name="person"),
    path("people/<slug:code>/role/", people.change_role, name="change_role"),
    path("people/<slug:code>/left/", people.mark_left, name="mark_left"),
    path("people/<slug:code>/back/", people.come_back, name="come_back"),
    path("people/<slug:code>/erase/", people.erase_person, name="erase_person"),
    path("house/", house.house, name="house"),
    path("house/tills/", house.tills, name="tills"),
    path("my-pin/", tablets.my_pin, name="my_pin"),
    path("tablets/", tablets.tablets, name="tablets"),
    path("tablets/enrol/", tablets.enrol, name="tablet_enrol"),
    path("tablets/<slug:code>/withdraw/", tablets.withdraw, name="tablet_withdraw"),
    path("tablets/<slug:code>/release/", tablets.release, name="tablet_release"),
    path("people/<slug:code>/pin/", tablets.release_person, name="pin_release"),
    path("side-work/", side_work.station, name="side_work"),
    path("side-work/lists/", side_work.edit, name="side_work_edit"),
    path("side-work/lists/bring-in/", side_work.bring_in, name="side_work_bring_in"),
    path("side-work/lists/<slug:code>/remove/", side_work.remove, name="side_work_remove"),
    path("permits/", permits.permits_page, name="permits"),
    path("permits/<slug:code>/remove/", permits.remove, name="permit_remove"),
    path("refusals/", refusals.note, name="refusals"),
    path("refusals/<slug:code>/erase/", refusals.erase_words, name="refusal_erase"),
    path("log/", log.sealed_log, name="log"),
]

urlpatterns = [
    path("", door.door, name="door"),
    path("sign-in/", door.sign_in, name="sign_in"),
    path("tablet/", tablets.tablet, name="tablet"),
    path("sign-out/", door.sign_out, name="sign_out"),
    path("open/", door.open_house, name="open_house"),
    path("join/<slug:token>/", join.join, name="join"),
    path("h/<slug:house>/", include(house_pages)),
]
