"""One rule for days, on screen and on paper: what was done at two in the morning belongs to the
evening before."""

import csv
import datetime as dt
import io
import re
from pathlib import Path

import time_machine
from django.utils.formats import date_format

from barcourse.people.templatetags.house import house_day, house_moment
from tests.assessments.pages import address, text
from tests.factories import assessments as make
from tests.factories import hands
from tests.factories.assessments import NOW

TEMPLATES = Path(__file__).parents[2] / "templates"
CALENDAR_DAY = re.compile(r'\b(?:at|\w+_at)\|date:"(?:SHORT_)?DATE_FORMAT"')


def at_night(house):
    """Two in the morning after the evening of NOW."""
    day = house.business_day(NOW)
    wall = dt.datetime.combine(day + dt.timedelta(days=1), dt.time(2), tzinfo=house.zone)
    return day, wall.astimezone(dt.UTC)


def test_a_moment_is_told_by_the_houses_day_and_a_day_stays(house):
    day, night = at_night(house)

    assert house_day(night, house) == day != house.local(night).date()
    assert house_day(day, house) == day
    assert house_day(None, house) is None


def test_a_moment_with_its_hour_is_told_by_the_houses_day_too(house):
    day, night = at_night(house)
    words = f"{day:%B} {day.day}, {day.year}"

    assert house_moment(night, house) == f"{words}, 2 a.m. after midnight"
    assert house_moment(NOW, house) == f"{words}, {date_format(house.local(NOW), 'TIME_FORMAT')}"


def test_every_page_of_an_entry_tells_the_day_that_the_record_tells(visit, tamsin, nils):
    day, night = at_night(nils.venue)
    spot = hands.spot(tamsin, nils, at=night)
    rows = {
        "entry": spot, "take_back_hand": spot, "pour_check": hands.pour(tamsin, nils, at=night),
        "pace_check": hands.pace(tamsin, nils, at=night),
        "build": make.watch(tamsin, nils, at=night),
    }  # fmt: skip
    told = f"{day:%B} {day.day}, {day.year}, 2 a.m. after midnight"

    with time_machine.travel(night + dt.timedelta(minutes=5), tick=False):
        browser = visit(tamsin)
        for page, row in rows.items():
            assert told in text(browser.get(address(nils, page, code=row.code))), page


def test_no_page_tells_a_moment_by_the_calendar():
    found = [p.name for p in TEMPLATES.rglob("*.html") if CALENDAR_DAY.search(p.read_text())]

    assert found == []
    assert CALENDAR_DAY.search('{{ row.at|date:"DATE_FORMAT" }}')
    assert not CALENDAR_DAY.search('{{ row.at|house_day:venue|date:"DATE_FORMAT" }}')


def test_the_record_and_its_sheet_say_the_same_day_at_night(visit, tamsin, nils):
    day, night = at_night(nils.venue)
    build = make.watch(tamsin, nils, at=night)
    later = night + dt.timedelta(minutes=5)
    with time_machine.travel(later, tick=False):
        page = text(visit(nils).get(address(nils, "my_record")))
        answer = visit(nils).get(address(nils, "training_record_csv", code=nils.code))
        shown = text(visit(nils).get(address(nils, "my_build", code=build.code)))

    [row] = [r for r in csv.DictReader(io.StringIO(answer.content.decode("utf-8-sig")))
             if r["what"] == "build"]  # fmt: skip
    assert row["business day"] == day.isoformat()
    assert f"{day:%B} {day.day}, {day.year}, Tamsin" in page
    assert "2 a.m." in shown
