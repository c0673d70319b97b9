"""The written table: every page, and what it answers to everybody who may come to it.

Whoever adds a page adds its line. A cell says

    page   200             goes   redirect onward
    pdf    200, a paper    door   redirect to the sign-in page
    data   200, for other programs
    403 404                refused

A page with a GET and a POST has two lines; any other method is answered 405, after the same
refusals. The hire is the one whom the quiz, the certificate and the watched build are about;
`fellow` is another trainee of the same house. `other` owns another house; `left` owned this one
and left. Forms are sent as they stand on their page, filled in rightly (`page_forms.py`).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from assessments import ahead
from barcourse.people.access import Rule
from barcourse.people.checks import patterns
from barcourse.people.roles import May, Role
from recipes.models import Revision
from tests.factories.whole_house import Whole

VISITORS = ("nobody", "hire", "fellow", "trainer", "manager", "owner", "other", "left")
ROLES = {
    "hire": Role.TRAINEE,
    "fellow": Role.TRAINEE,
    "trainer": Role.TRAINER,
    "manager": Role.MANAGER,
    "owner": Role.OWNER,
}

TABLE = """
page                method rule          nobody  hire  fellow  trainer  manager  owner  other  left

door                GET    anyone        door    goes  goes    goes     goes     goes   goes   page
sign_in             GET    anyone        page    page  page    page     page     page   page   page
sign_in             POST   anyone        goes    goes  goes    goes     goes     goes   goes   goes
sign_out            POST   signed_in     door    door  door    door     door     door   door   door
tablet              GET    anyone        403     403   403     403      403      403    403    403
tablet              POST   anyone        403     403   403     403      403      403    403    403
open_house          GET    anyone        403     403   403     403      403      403    403    403
open_house          POST   anyone        403     403   403     403      403      403    403    403
join                GET    anyone        page    page  page    page     page     page   page   page
join                POST   anyone        goes    goes  goes    goes     goes     goes   goes   goes
new_password        GET    anyone        page    page  page    page     page     page   page   page
new_password        POST   anyone        goes    goes  goes    goes     goes     goes   goes   goes
check_paper         GET    anyone        page    page  page    page     page     page   page   page

house_door          GET    learn         door    goes  goes    goes     goes     goes   404    404
next_shift          GET    learn         door    page  page    page     page     page   404    404
shift_when          GET    learn         door    page  page    page     page     page   404    404
shift_when          POST   learn         door    goes  goes    goes     goes     goes   404    404
shift_off           POST   learn         door    goes  404     404      404      404    404    404
hire_shift          GET    invite        door    403   403     403      page     page   404    404
hire_shift          POST   invite        door    403   403     403      goes     goes   404    404
hire_shift_off      POST   invite        door    403   403     403      goes     goes   404    404
rota                GET    invite        door    403   403     403      page     page   404    404
rota                POST   invite        door    403   403     403      page     page   404    404
study               GET    see_papers    door    403   403     403      page     page   404    404
study_csv           GET    see_papers    door    403   403     403      data     data   404    404
shift_cards         GET    learn         door    page  page    page     page     page   404    404
shift_cards         POST   learn         door    goes  goes    goes     goes     goes   404    404
hook                GET    learn         door    page  page    page     page     page   404    404
hook                POST   learn         door    goes  goes    goes     goes     goes   404    404
modules             GET    learn         door    page  page    page     page     page   404    404
module              GET    learn         door    page  page    page     page     page   404    404
module_reading      POST   learn         door    goes  goes    goes     goes     goes   404    404
module_read         POST   learn         door    goes  goes    goes     goes     goes   404    404
module_cards        GET    learn         door    page  page    page     page     page   404    404
module_cards        POST   learn         door    goes  goes    goes     goes     goes   404    404
lesson              GET    learn         door    page  page    page     page     page   404    404
calls               GET    learn         door    page  page    page     page     page   404    404
calls               POST   learn         door    page  page    page     page     page   404    404
allergens           GET    learn         door    page  page    page     page     page   404    404
off_tonight         GET    learn         door    page  page    page     page     page   404    404
side_work           GET    learn         door    page  page    page     page     page   404    404
side_work           POST   learn         door    goes  goes    goes     goes     goes   404    404
side_work_take_back GET    learn         door    page  page    page     page     page   404    404
side_work_take_back POST   learn         door    goes  page    page     goes     goes   404    404
side_work_edit      GET    edit_book     door    403   403     page     page     page   404    404
side_work_edit      POST   edit_book     door    403   403     goes     goes     goes   404    404
side_work_bring_in  POST   edit_book     door    403   403     goes     goes     goes   404    404
side_work_remove    POST   edit_book     door    403   403     goes     goes     goes   404    404
off_say             POST   edit_book     door    403   403     goes     goes     goes   404    404
off_lift            POST   edit_book     door    403   403     goes     goes     goes   404    404
quiz_start          POST   learn         door    goes  goes    goes     goes     goes   404    404
quiz                GET    learn         door    page  404     404      404      404    404    404
quiz                POST   learn         door    goes  404     404      404      404    404    404
quiz_result         GET    learn         door    page  404     page     page     page   404    404
my_build            GET    learn         door    page  404     404      404      404    404    404
call_practice       GET    learn         door    page  page    page     page     page   404    404
call_start          POST   learn         door    goes  goes    goes     goes     goes   404    404
call_run            GET    learn         door    page  404     404      404      404    404    404
call_run            POST   learn         door    goes  404     404      404      404    404    404
call_result         GET    learn         door    page  404     page     page     page   404    404
my_record           GET    learn         door    page  page    page     page     page   404    404
my_papers           GET    learn         door    page  page    page     page     page   404    404
certificate_pdf     GET    learn         door    pdf   404     404      pdf      pdf    404    404
handout_pdf         GET    learn         door    pdf   pdf     pdf      pdf      pdf    404    404
lookalike_map_pdf   GET    learn         door    pdf   pdf     pdf      pdf      pdf    404    404

watch               GET    watch         door    403   403     page     page     page   404    404
watch_hire          GET    watch         door    403   403     page     page     page   404    404
watch_build         GET    watch         door    403   403     page     page     page   404    404
watch_build         POST   watch         door    403   403     goes     goes     goes   404    404
build               GET    see_records   door    403   403     page     page     page   404    404
sign_off            POST   watch         door    403   403     goes     page     page   404    404
void                POST   void          door    403   403     goes     goes     goes   404    404
stock_used          GET    watch         door    403   403     page     page     page   404    404
keep_watch          PUT    watch         door    403   403     data     data     data   404    404
drop_watch          POST   watch         door    403   403     goes     goes     goes   404    404
together            GET    watch         door    403   403     page     page     page   404    404
together            POST   watch         door    403   403     page     page     page   404    404
spot                GET    watch         door    403   403     page     page     page   404    404
spot_drink          GET    watch         door    403   403     page     page     page   404    404
spot_drink          POST   watch         door    403   403     goes     goes     goes   404    404
ticket_pdf          GET    watch         door    403   403     pdf      pdf      pdf    404    404
watch_round         GET    watch         door    403   403     page     page     page   404    404
watch_round         POST   watch         door    403   403     page     page     page   404    404
pours               GET    watch         door    403   403     page     page     page   404    404
pours               POST   watch         door    403   403     goes     goes     goes   404    404
pace                GET    watch         door    403   403     page     page     page   404    404
pace                POST   watch         door    403   403     page     page     page   404    404
take_back           POST   watch         door    403   403     goes     page     page   404    404
take_back_hand      GET    watch         door    403   403     page     page     page   404    404
take_back_hand      POST   watch         door    403   403     goes     goes     goes   404    404
pour_check          GET    see_records   door    403   403     page     page     page   404    404
pace_check          GET    see_records   door    403   403     page     page     page   404    404
round_done          GET    see_records   door    403   403     page     page     page   404    404
my_pour_check       GET    learn         door    page  404     404      404      404    404    404
my_pace_check       GET    learn         door    page  404     404      404      404    404    404
my_round            GET    learn         door    page  404     404      404      404    404    404
second_marks        GET    watch         door    403   403     page     page     page   404    404
mark_too            GET    watch         door    403   403     404      page     page   404    404
mark_too            POST   watch         door    403   403     404      goes     goes   404    404
both_marks          GET    learn         door    page  404     page     page     page   404    404
answer_build        POST   learn         door    goes  404     404      404      404    404    404
erase_answer        POST   learn         door    goes  404     404      404      404    404    404
entry               GET    learn         door    page  404     page     page     page   404    404
entry_answer        POST   learn         door    goes  404     404      404      404    404    404
entry_erase         POST   learn         door    goes  404     goes     goes     goes   404    404
entry_stands        POST   see_log       door    403   403     403      goes     goes   404    404
erase_words         POST   watch         door    403   403     goes     goes     goes   404    404
hire_record         GET    see_records   door    403   403     page     page     page   404    404
who_is_ready        GET    see_ready     door    403   403     page     page     page   404    404
trainers_hour       GET    see_ready     door    403   403     page     page     page   404    404
own_record          GET    see_log       door    403   403     403      page     page   404    404
ready_pdf           GET    see_ready     door    403   403     pdf      pdf      pdf    404    404
ready_csv           GET    see_ready     door    403   403     data     data     data   404    404
ready_tasks         GET    see_ready     door    403   403     page     page     page   404    404
ready_tasks_pdf     GET    see_ready     door    403   403     pdf      pdf      pdf    404    404
ready_tasks_csv     GET    see_ready     door    403   403     data     data     data   404    404
ready_policy        GET    set_ready     door    403   403     403      page     page   404    404
ready_policy        POST   set_ready     door    403   403     403      page     page   404    404
once                GET    set_ready     door    403   403     403      page     page   404    404
once                POST   set_ready     door    403   403     403      goes     goes   404    404
once_end            POST   set_ready     door    403   403     403      goes     goes   404    404
once_erase          POST   set_ready     door    403   403     403      goes     goes   404    404
the_night           GET    see_ready     door    403   403     page     page     page   404    404
sales_mix           GET    edit_book     door    403   403     page     page     page   404    404
sales_take          GET    take_in_sales door    403   403     403      page     page   404    404
sales_take          POST   take_in_sales door    403   403     403      page     page   404    404
sales_names         POST   take_in_sales door    403   403     403      goes     goes   404    404
sales_withdraw      POST   take_in_sales door    403   403     403      goes     goes   404    404

quiz_sheets         GET    edit_book     door    403   403     page     page     page   404    404
quiz_sheet_new      GET    edit_book     door    403   403     page     page     page   404    404
quiz_sheet_new      POST   edit_book     door    403   403     goes     goes     goes   404    404
quiz_sheet          GET    edit_book     door    403   403     page     page     page   404    404
quiz_sheet          POST   edit_book     door    403   403     goes     goes     goes   404    404
quiz_sheet_retire   POST   edit_book     door    403   403     goes     goes     goes   404    404
sheet_start         POST   learn         door    goes  goes    goes     goes     goes   404    404
item_report         GET    edit_book     door    403   403     page     page     page   404    404
mix_ups             GET    watch         door    403   403     page     page     page   404    404
mix_up              GET    watch         door    403   403     page     page     page   404    404
mix_up              POST   watch         door    403   403     goes     goes     goes   404    404
drill_start         POST   learn         door    goes  404     404      404      404    404    404
made_instead        GET    watch         door    403   403     page     page     page   404    404
made_instead        POST   watch         door    403   403     goes     page     page   404    404
try_out             GET    watch         door    403   403     page     page     page   404    404
try_out             POST   watch         door    403   403     goes     goes     goes   404    404
try_out_start       POST   learn         door    goes  404     404      404      404    404    404
try_out_end         POST   learn         door    goes  404     goes     goes     goes   404    404
try_outs            GET    watch         door    403   403     page     page     page   404    404

book                GET    see_book      door    403   403     page     page     page   404    404
menu_marks          GET    edit_book     door    403   403     page     page     page   404    404
menu_marks          POST   edit_book     door    403   403     goes     goes     goes   404    404
house_rules         GET    see_book      door    403   403     page     page     page   404    404
house_rules_change  GET    edit_book     door    403   403     page     page     page   404    404
house_rules_change  POST   edit_book     door    403   403     page     page     page   404    404
house_rules_kinds   GET    edit_book     door    403   403     page     page     page   404    404
house_rules_kinds   POST   edit_book     door    403   403     page     page     page   404    404
house_rules_glasses GET    edit_book     door    403   403     page     page     page   404    404
house_rules_glasses POST   edit_book     door    403   403     page     page     page   404    404
house_rules_ice     GET    edit_book     door    403   403     page     page     page   404    404
house_rules_ice     POST   edit_book     door    403   403     page     page     page   404    404
house_rules_garnish GET    edit_book     door    403   403     page     page     page   404    404
house_rules_garnish POST   edit_book     door    403   403     page     page     page   404    404
house_rules_words   GET    edit_book     door    403   403     page     page     page   404    404
house_rules_words   POST   edit_book     door    403   403     page     page     page   404    404
house_rules_preset  GET    edit_book     door    403   403     page     page     page   404    404
house_rules_preset  POST   edit_book     door    403   403     page     page     page   404    404
book_import         GET    edit_book     door    403   403     page     page     page   404    404
book_import         POST   edit_book     door    403   403     page     page     page   404    404
book_paste          GET    edit_book     door    403   403     page     page     page   404    404
book_paste          POST   edit_book     door    403   403     page     page     page   404    404
book_export         GET    see_book      door    403   403     data     data     data   404    404
drink_data          GET    see_book      door    403   403     data     data     data   404    404
drink               GET    see_book      door    403   403     page     page     page   404    404
drink_change        GET    edit_book     door    403   403     page     page     page   404    404
drink_change        POST   edit_book     door    403   403     page     page     page   404    404
drink_preview       POST   edit_book     door    403   403     page     page     page   404    404
drink_compare       GET    see_book      door    403   403     page     page     page   404    404
drink_card          GET    edit_book     door    403   403     page     page     page   404    404
drink_card          POST   edit_book     door    403   403     goes     goes     goes   404    404
drink_retire        GET    edit_book     door    403   403     page     page     page   404    404
drink_retire        POST   edit_book     door    403   403     goes     goes     goes   404    404
drink_bring_back    POST   edit_book     door    403   403     goes     goes     goes   404    404
drink_take_back     POST   edit_book     door    403   403     goes     goes     goes   404    404
drink_new           GET    edit_book     door    403   403     page     page     page   404    404
drink_new           POST   edit_book     door    403   403     page     page     page   404    404
drink_new_preview   POST   edit_book     door    403   403     page     page     page   404    404
prices              GET    edit_book     door    403   403     page     page     page   404    404
prices              POST   edit_book     door    403   403     goes     goes     goes   404    404
ingredients         GET    see_book      door    403   403     page     page     page   404    404
ingredient_new      GET    edit_book     door    403   403     page     page     page   404    404
ingredient_new      POST   edit_book     door    403   403     goes     goes     goes   404    404
ingredient          GET    edit_book     door    403   403     page     page     page   404    404
ingredient          POST   edit_book     door    403   403     goes     goes     goes   404    404
ingredient_label    GET    edit_book     door    403   403     page     page     page   404    404
ingredient_label    POST   edit_book     door    403   403     goes     goes     goes   404    404
ingredient_remove   POST   edit_book     door    403   403     goes     goes     goes   404    404
lessons             GET    edit_book     door    403   403     page     page     page   404    404
module_notes        GET    edit_book     door    403   403     page     page     page   404    404
module_notes        POST   edit_book     door    403   403     goes     goes     goes   404    404
lesson_new          GET    edit_book     door    403   403     page     page     page   404    404
lesson_new          POST   edit_book     door    403   403     goes     goes     goes   404    404
lesson_edit         GET    edit_book     door    403   403     page     page     page   404    404
lesson_edit         POST   edit_book     door    403   403     goes     goes     goes   404    404
lesson_move         POST   edit_book     door    403   403     goes     goes     goes   404    404
lesson_remove       GET    edit_book     door    403   403     page     page     page   404    404
lesson_remove       POST   edit_book     door    403   403     page     page     page   404    404
question_new        GET    edit_book     door    403   403     page     page     page   404    404
question_new        POST   edit_book     door    403   403     goes     goes     goes   404    404
question_edit       GET    edit_book     door    403   403     page     page     page   404    404
question_edit       POST   edit_book     door    403   403     goes     goes     goes   404    404
question_remove     GET    edit_book     door    403   403     page     page     page   404    404
question_remove     POST   edit_book     door    403   403     page     page     page   404    404

touched_typed       POST   edit_book     door    403   403     page     page     page   404    404
touched_waiting     GET    edit_book     door    403   403     page     page     page   404    404

papers              GET    see_papers    door    403   403     403      page     page   404    404
permits             GET    see_papers    door    403   403     403      page     page   404    404
permits             POST   see_papers    door    403   403     403      goes     goes   404    404
permit_remove       POST   see_papers    door    403   403     403      goes     goes   404    404
folder_pdf          GET    see_papers    door    403   403     403      pdf      pdf    404    404
folder_csv          GET    see_papers    door    403   403     403      data     data   404    404
training_record_pdf GET    learn         door    pdf   404     pdf      pdf      pdf    404    404
training_record_csv GET    learn         door    data  404     data     data     data   404    404
to_look_at          GET    see_log       door    403   403     403      page     page   404    404
let_stand           POST   see_log       door    403   403     403      goes     goes   404    404
decide_plan         POST   see_log       door    403   403     403      goes     goes   404    404
see_marks           POST   watch         door    403   403     goes     goes     goes   404    404
drop_left_watch     POST   see_log       door    403   403     403      goes     goes   404    404
hand_over           POST   see_log       door    403   403     403      goes     goes   404    404
certificate_issue   POST   issue_papers  door    403   403     403      goes     goes   404    404
certificate_revoke  GET    issue_papers  door    403   403     403      page     page   404    404
certificate_revoke  POST   issue_papers  door    403   403     403      goes     goes   404    404
log                 GET    see_log       door    403   403     403      page     page   404    404
refusals            GET    learn         door    page  page    page     page     page   404    404
refusals            POST   learn         door    goes  goes    goes     goes     goes   404    404
refusal_erase       POST   see_log       door    403   403     403      goes     goes   404    404
my_pin              GET    learn         door    page  page    page     page     page   404    404
my_pin              POST   learn         door    goes  goes    goes     goes     goes   404    404
tablets             GET    invite        door    403   403     403      page     page   404    404
tablet_enrol        POST   invite        door    403   403     403      goes     goes   404    404
tablet_withdraw     POST   invite        door    403   403     403      goes     goes   404    404
tablet_release      POST   invite        door    403   403     403      goes     goes   404    404
pin_release         POST   invite        door    403   403     403      goes     goes   404    404

people              GET    invite        door    403   403     403      page     page   404    404
invite              POST   invite        door    403   403     403      goes     goes   404    404
just_invited        GET    invite        door    403   403     403      page     page   404    404
fresh_link          POST   invite        door    403   403     403      goes     goes   404    404
withdraw_invitation POST   invite        door    403   403     403      goes     goes   404    404
password_link       GET    invite        door    403   403     403      page     page   404    404
password_link       POST   invite        door    403   403     403      goes     goes   404    404
person              GET    change_people door    403   403     403      403      page   404    404
change_role         POST   change_people door    403   403     403      403      goes   404    404
mark_left           POST   change_people door    403   403     403      403      goes   404    404
come_back           POST   change_people door    403   403     403      403      goes   404    404
erase_person        POST   change_people door    403   403     403      403      goes   404    404
house               GET    set_house     door    403   403     403      403      page   404    404
house               POST   set_house     door    403   403     403      403      goes   404    404
tills               POST   set_house     door    403   403     403      403      goes   404    404
pour_policy         GET    set_house     door    403   403     403      403      page   404    404
pour_policy         POST   set_house     door    403   403     403      403      page   404    404
"""


@dataclass(frozen=True)
class Line:
    """One line of the table; `answers` by visitor."""

    page: str
    method: str
    rule: str
    answers: dict[str, str]

    def __str__(self) -> str:
        return f"{self.method} {self.page}"


def lines() -> list[Line]:
    head, *rows = [row.split() for row in TABLE.splitlines() if row.strip()]
    assert head[3:] == list(VISITORS)
    return [
        Line(page, method, rule, dict(zip(VISITORS, cells, strict=True)))
        for page, method, rule, *cells in rows
    ]


def rules() -> dict[str, Rule]:
    """The rule that the table demands of each page's view."""
    found: dict[str, Rule] = {}
    for line in lines():
        earlier = found.get(line.page)
        methods = (*(earlier.methods if earlier else ()), line.method)
        if line.rule in ("anyone", "signed_in"):
            found[line.page] = Rule(line.rule, None, methods)
        else:
            found[line.page] = Rule("member", May(line.rule), methods)
    return found


@dataclass(frozen=True)
class Page:
    """A page as it is: its view, and the parts of its address in their order."""

    name: str | None
    view: Any
    parts: tuple[str, ...]


def pages() -> list[Page]:
    """Every page of the site."""
    return [
        Page(pattern.name, pattern.callback, tuple(re.findall(r"<(?:\w+:)?(\w+)>", route)))
        for route, pattern in patterns()
    ]


def _module(house: Whole, page: str) -> str:
    """The module with the lesson, or for a paper, as it is short; else the one with the drink."""
    if page in ("lesson", "handout_pdf") or page.startswith(("lesson_", "question_")):
        return house.lesson.module.slug
    return house.quiz.module.slug


def _coming(house: Whole) -> str:
    """The drink of which a revision waits."""
    return Revision.objects.get(venue=house.venue, takes_effect_at=house.coming).recipe.slug


# What the addresses of one house's things are made of, by the name of the part.
PARTS: dict[str, Callable[[Whole, str], str]] = {
    "house": lambda house, page: house.venue.slug,
    "token": lambda house, page: house.password_token if page == "new_password" else house.token,
    "hire": lambda house, page: house.hire.code,
    "drink": lambda house, page: house.drink,
    "slug": lambda house, page: _coming(house) if page == "drink_take_back" else house.drink,
    "lesson": lambda house, page: house.lesson.slug,
    "ingredient": lambda house, page: house.bottle.slug,
    "question": lambda house, page: house.lesson.scenarios.first().slug,
    "module": _module,
    "other": lambda house, page: house.drill.other.slug,
    "shift": lambda house, page: ahead.code_of(house.works),
    "moment": lambda house, page: ahead.code_of(house.coming),
    "trainer": lambda house, page: house.left_open.trainer.code,
    "number": lambda house, page: str(house.side_done.pk),
    "tried": lambda house, page: house.try_out.code,
    "code": lambda house, page: _CODES[page](house),
}

_CODES: dict[str, Callable[[Whole], str]] = {
    "build": lambda house: house.watched.code,
    "my_build": lambda house: house.watched.code,
    "sign_off": lambda house: house.watched.code,
    "void": lambda house: house.watched.code,
    "quiz": lambda house: house.quiz.code,
    "quiz_result": lambda house: house.done.code,
    "call_run": lambda house: house.calls.code,
    "call_result": lambda house: house.called.code,
    "take_back": lambda house: house.fresh.code,
    "once_end": lambda house: house.once.code,
    "once_erase": lambda house: house.once.code,
    "take_back_hand": lambda house: house.pours.code,
    "pour_check": lambda house: house.pours.code,
    "my_pour_check": lambda house: house.pours.code,
    "pace_check": lambda house: house.pace.code,
    "my_pace_check": lambda house: house.pace.code,
    "round_done": lambda house: house.round.code,
    "my_round": lambda house: house.round.code,
    "hire_record": lambda house: house.hire.code,
    "hire_shift": lambda house: house.hire.code,
    "hire_shift_off": lambda house: house.hire.code,
    "quiz_sheet": lambda house: house.sheet.code,
    "quiz_sheet_retire": lambda house: house.sheet.code,
    "sheet_start": lambda house: house.sheet.code,
    "drill_start": lambda house: house.drill.code,
    "made_instead": lambda house: house.wrong_drink.code,
    "try_out": lambda house: house.hire.code,
    "try_out_start": lambda house: house.try_out.code,
    "certificate_pdf": lambda house: house.certificate.code,
    "certificate_revoke": lambda house: house.certificate.code,
    "check_paper": lambda house: house.certificate.code,
    "fresh_link": lambda house: house.invitation.code,
    "withdraw_invitation": lambda house: house.invitation.code,
    "person": lambda house: house.fellow.code,
    "password_link": lambda house: house.fellow.code,
    "mark_too": lambda house: house.fresh.code,
    "see_marks": lambda house: house.fresh.code,
    "both_marks": lambda house: house.twice.code,
    "answer_build": lambda house: house.watched.code,
    "entry": lambda house: house.spot.code,
    "entry_answer": lambda house: house.spot.code,
    "entry_erase": lambda house: house.spot.code,
    "entry_stands": lambda house: house.said.code,
    "erase_answer": lambda house: house.answered.code,
    "erase_words": lambda house: house.watched.code,
    "let_stand": lambda house: house.answered.code,
    "side_work_remove": lambda house: house.side_task.code,
    "permit_remove": lambda house: house.permit.code,
    "sales_withdraw": lambda house: house.sales.code,
    "training_record_pdf": lambda house: house.hire.code,
    "training_record_csv": lambda house: house.hire.code,
    "refusal_erase": lambda house: house.refusal.code,
    "tablet_withdraw": lambda house: house.tablet.code,
    "tablet_release": lambda house: house.tablet.code,
    "pin_release": lambda house: house.hire.code,
    "change_role": lambda house: house.fellow.code,
    "mark_left": lambda house: house.fellow.code,
    "come_back": lambda house: house.gone.code,
    "erase_person": lambda house: house.gone.code,
}


def parts(page: Page, house: Whole) -> dict[str, str]:
    """What stands in the page's address, for a thing of this house."""
    return {part: PARTS[part](house, page.name or "") for part in page.parts}
