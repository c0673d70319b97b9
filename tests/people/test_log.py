"""The sealed log: how it is written and how it is hashed."""

import datetime as dt
import hashlib
import json
import uuid
from decimal import Decimal

import pytest
from django.db import connection

from barcourse.people import log
from barcourse.people.models import LogEntry, Station
from barcourse.people.sealed import canonical, digest_of
from recipes.models import RulesVersion
from tests.factories import people as make


def test_entries_are_numbered_from_one_and_chained_from_the_genesis(odalys, nils, house):
    entries = list(LogEntry.objects.filter(venue=house).order_by("number"))

    assert [entry.number for entry in entries] == list(range(1, len(entries) + 1))
    assert [entry.previous for entry in entries] == [
        log.GENESIS,
        *(entry.hash for entry in entries[:-1]),
    ]
    assert log.head(house) == log.Head(entries[-1].number, entries[-1].hash)


def test_each_house_has_a_chain_of_its_own(odalys, ravna):
    chains = [LogEntry.objects.filter(venue=m.venue) for m in (odalys, ravna)]

    assert [chain.earliest("number").number for chain in chains] == [1, 1]
    assert chains[0].get(number=1).hash != chains[1].get(number=1).hash


def test_the_hash_can_be_recomputed_by_hand(odalys, nils, house):
    """From the description alone: sorted keys, no spaces, UTF-8, times in UTC."""
    entry = LogEntry.objects.get(venue=house, kind="joined")
    body = (
        f'{{"at":"2026-03-05T15:00:00.000000+00:00","by":"{nils.code}",'
        '"facts":{"left":"","role":"trainee"},"kind":"joined",'
        f'"number":{entry.number},"previous":"{entry.previous}",'
        '"row_digest":"","row_id":"","row_table":"",'
        f'"subject":"{nils.code}","text_code":"","text_digest":"","venue":"{house.code}"}}'
    )

    assert hashlib.sha256(body.encode()).hexdigest() == entry.hash


def test_no_name_gets_into_it(odalys, marek, nils, house):
    stored = json.dumps(list(LogEntry.objects.values()), default=str).lower()

    assert nils.code in stored
    for name in ("odalys", "marek", "nils", "harbour"):
        assert name not in stored


def test_it_is_written_only_in_the_transaction_of_what_it_records(transactional_db, odalys):
    with pytest.raises(RuntimeError, match="transaction"):
        log.append(venue=odalys.venue, by=odalys, kind="house_changed")


def test_a_kind_without_words_is_refused(odalys):
    with pytest.raises(ValueError, match="no words"):
        log.append(venue=odalys.venue, by=odalys, kind="danced")


@pytest.mark.parametrize(
    ("facts", "allowed"),
    [
        ({"role": "trainer", "left": ""}, True),
        ({"pass_mark": [80, 85], "ok": True, "none": None}, True),
        ({"deep": {"list": ["a-1", {"b": 2}]}}, True),
        ({"note": "spilt the tray"}, False),
        ({"name": "Zoë"}, False),
        ({"share": 0.5}, False),
        ({"long": "x" * 101}, False),
        ({"deep": [{"note": "two words"}]}, False),
        ({"two words": 1}, False),
        ({1: "a"}, False),
        ({"at": dt.date(2026, 3, 5)}, False),
    ],
)
def test_facts_are_codes_and_whole_numbers(odalys, facts, allowed):
    entry = {"venue": odalys.venue, "by": odalys, "kind": "invited", "facts": facts}
    if allowed:
        assert log.append(**entry).facts == facts
        assert log.check(odalys.venue) == []
        return

    with pytest.raises(ValueError, match="no free text"):
        log.append(**entry)


def test_words_about_somebody_are_in_it_only_as_a_salted_digest(odalys, nils):
    text = log.keep_text(about=nils, text="steady hands")
    same = log.keep_text(about=nils, text="steady hands")

    entry = log.append(venue=odalys.venue, by=odalys, kind="house_changed", text=text)

    assert entry.text_code == text.code
    assert entry.text_digest == hashlib.sha256(f"{text.salt}steady hands".encode()).hexdigest()
    assert len(text.salt) == 32
    assert text.salt != same.salt


@pytest.mark.parametrize(
    "text",
    [
        "",
        "12",
        ":",
        "12:xyz",
        "-1:" + "a" * 64,
        "1:" + "A" * 64,
        "1:" + "a" * 63,
        "\N{ARABIC-INDIC DIGIT ONE}:" + "a" * 64,
    ],
)
def test_a_head_that_is_none_is_refused(text):
    with pytest.raises(ValueError, match="NUMBER:HASH"):
        log.Head.parse(text)


def test_a_head_is_read_as_it_is_printed():
    head = log.Head(12, "ab" * 32)

    assert log.Head.parse(f" {head}\n") == head


def test_a_digest_covers_every_field(house):
    station = house.stations.get(slug="well")
    digests = {digest_of(station)}
    changed = {"slug": "x", "name": "y", "position": 9, "takes_orders": False, "id": 10**6}

    for field, value in changed.items():
        other = house.stations.get(slug="well")
        setattr(other, field, value)
        digests.add(digest_of(other))

    assert len(digests) == len(changed) + 1
    assert digest_of(Station.objects.get(pk=station.pk)) == digest_of(station)


def test_values_are_written_one_way():
    assert canonical({"b": 1, "a": "ü"}) == '{"a":"ü","b":1}'.encode()
    with pytest.raises(ValueError, match="not JSON compliant"):
        canonical(float("nan"))


@pytest.mark.parametrize(
    ("value", "plain"),
    [
        (
            dt.datetime(2026, 3, 5, 16, tzinfo=dt.timezone(dt.timedelta(hours=1))),
            "2026-03-05T15:00:00.000000+00:00",
        ),
        (dt.date(2026, 3, 5), "2026-03-05"),
        (dt.timedelta(hours=25), "1d3600s0us"),
        (uuid.UUID(int=1), "00000000-0000-0000-0000-000000000001"),
        (Decimal("1.250"), "1.250"),
        (b"\x01\xff", "01ff"),
        (memoryview(b"\x01\xff"), "01ff"),
        (True, True),
        (None, None),
    ],
)
def test_a_field_is_digested_as_plain_json(value, plain):
    from barcourse.people.sealed import _plain

    assert _plain(value) == plain


def test_two_at_once_queue_up_for_their_number(odalys, django_assert_num_queries):
    """One lock, one look at the newest, one insert: what a number costs."""
    with django_assert_num_queries(3) as queries:
        log.append(venue=odalys.venue, by=odalys, kind="house_changed", at=make.OPENED)

    if connection.vendor == "postgresql":
        assert "FOR NO KEY UPDATE" in queries[0]["sql"]


def test_many_rows_are_logged_in_a_handful_of_queries(odalys, house, django_assert_max_num_queries):
    rows = copies(RulesVersion.objects.filter(venue=house).first(), 20)

    with django_assert_max_num_queries(5):
        entries = log.append_rows(venue=house, by=odalys, kind="invited", rows=rows)

    assert [entry.row_id for entry in entries] == [str(row.pk) for row in rows]
    assert log.append_rows(venue=house, by=odalys, kind="invited", rows=[]) == []
    assert log.check(house) == []


def copies(row, many):
    values = RulesVersion.objects.filter(pk=row.pk).values().get()
    del values["id"]
    return RulesVersion.objects.bulk_create(
        RulesVersion(**{**values, "number": values["number"] + n}) for n in range(1, many + 1)
    )
