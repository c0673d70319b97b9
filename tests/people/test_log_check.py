"""What somebody with the keys to the database can do, and that each of it shows."""

import datetime as dt
import json

import pytest
from django.core.management import call_command
from django.db import DatabaseError, connection, transaction

from barcourse.people import log
from barcourse.people.models import LogEntry, Membership, Permit, PersonalText, Venue
from recipes.models import RulesVersion
from tests.cast import tampering
from tests.factories import people as make


def codes(venue, head=None):
    return [reason.code for reason in log.check(venue, head)]


def by_hand(sql, *params):
    """Raw SQL with the guards lifted, by somebody who sets them again afterwards."""
    with tampering(), connection.cursor() as cursor:
        cursor.execute(sql, params)
        assert cursor.rowcount > 0


@pytest.fixture
def story(odalys, nils, house):
    """A house with a sealed row, words about somebody, and words that were erased."""
    from barcourse.people import enrol

    for words in ("steady hands", "late twice"):
        text = log.keep_text(about=nils, text=words)
        log.append(venue=house, by=odalys, kind="house_changed", text=text, subject=nils)
    enrol.erase_text(by=odalys, text=text, at=make.OPENED)
    return house


def test_an_honest_log_is_whole(story):
    assert log.check(story, log.head(story)) == []
    assert log.check(story, log.Head(0, log.GENESIS)) == []


@pytest.mark.parametrize(
    ("sql", "found"),
    [
        ("UPDATE people_logentry SET kind = 'invited' WHERE number = 2", ["log_entry_changed"]),
        ("UPDATE people_logentry SET by_code = '' WHERE number = 2", ["log_entry_changed"]),
        ("UPDATE people_logentry SET facts = '{\"x\":1}' WHERE number = 2", ["log_entry_changed"]),
        (
            "UPDATE people_logentry SET hash = 'x' WHERE number = 2",
            ["log_entry_changed", "log_link_broken"],
        ),
        (
            "UPDATE people_logentry SET previous = 'x' WHERE number = 2",
            ["log_link_broken", "log_entry_changed"],
        ),
    ],
)
def test_a_changed_entry_shows(story, sql, found):
    by_hand(sql)

    assert codes(story) == found


@pytest.mark.parametrize("number", ["1", "2", "(SELECT max(number) FROM people_logentry)"])
@pytest.mark.parametrize("at", ["one evening", "", "2026-13-45 00:00:00"])
def test_an_entry_whose_moment_is_no_date_is_told_as_changed(story, capsys, at, number):
    """Only SQLite keeps text as a moment."""
    change = f"UPDATE people_logentry SET at = %s WHERE number = {number}"
    if connection.vendor != "sqlite":
        with pytest.raises(DatabaseError), transaction.atomic():
            by_hand(change, at)
        return
    by_hand(change, at)

    assert codes(story) == ["log_entry_changed"]
    with pytest.raises(SystemExit) as left:
        call_command("check_log")
    assert left.value.code == 1
    assert "changed" in capsys.readouterr().out


@pytest.mark.parametrize("facts", ["[]", "7", "{}", '{"legal_age": []}'])
@pytest.mark.parametrize("kind", ["joined", "permit_added", "permit_removed", "house_changed"])
def test_an_entry_whose_facts_are_of_another_form_is_told_as_changed(story, kind, facts):
    by_hand("UPDATE people_logentry SET kind = %s, facts = %s WHERE number = 2", kind, facts)

    assert "log_entry_changed" in codes(story)


def test_an_entry_taken_out_of_the_middle_shows(story):
    by_hand(
        "DELETE FROM people_logentry WHERE number = (SELECT max(number) - 1 FROM people_logentry)"
    )

    assert "log_gap" in codes(story)


def test_entries_renumbered_over_a_gap_show(story):
    number = LogEntry.objects.get(venue=story, kind="joined").number
    by_hand("DELETE FROM people_logentry WHERE number = %s", number)
    for later in range(number + 1, log.head(story).number + 1):
        by_hand("UPDATE people_logentry SET number = %s WHERE number = %s", later - 1, later)

    assert {"log_link_broken", "log_entry_changed", "membership_differs"} <= set(codes(story))


def test_the_newest_entries_cut_off_show_against_a_printed_head(story, odalys):
    printed = log.head(story)
    by_hand("DELETE FROM people_logentry WHERE number = %s", printed.number)
    assert "log_head_missing" in codes(story, printed)

    log.append(venue=story, by=odalys, kind="house_changed", at=make.OPENED)

    assert log.head(story).number == printed.number
    assert "log_head_missing" in codes(story, printed)


def test_a_chain_rewritten_from_the_start_shows_against_a_printed_head(story):
    """Somebody who knows the program can make a chain that is whole in itself."""
    from barcourse.people.chain import hash_of

    printed = log.head(story)
    last = log.GENESIS
    with tampering(), connection.cursor() as cursor:
        for entry in LogEntry.objects.filter(venue=story).order_by("number"):
            entry.previous, entry.by_code = last, "forged"
            last = hash_of(entry, story.code)
            cursor.execute(
                "UPDATE people_logentry SET previous = %s, by_code = 'forged', hash = %s"
                " WHERE id = %s",
                [entry.previous, last, entry.pk],
            )

    assert codes(story) == []
    assert codes(story, printed) == ["log_head_missing"]


def test_a_changed_sealed_row_shows(story):
    row = RulesVersion.objects.filter(venue=story).first()
    by_hand("UPDATE recipes_rulesversion SET number = number + 1 WHERE id = %s", row.pk)

    assert codes(story) == ["row_changed"]


def test_a_sealed_row_that_is_gone_shows(story):
    by_hand("UPDATE people_logentry SET row_id = '999999' WHERE row_table = 'recipes_rulesversion'")

    assert codes(story) == ["log_entry_changed", "row_unlogged", "row_missing"]


def test_an_entry_about_a_table_that_is_gone_shows(story):
    by_hand("UPDATE people_logentry SET row_table = 'old_table', row_id = '1' WHERE number = 2")

    assert "row_missing" in codes(story)


def test_a_sealed_row_slipped_in_shows(story):
    """The database lets a new row in; the log knows nothing of it."""
    newest = RulesVersion.objects.filter(venue=story).latest("pk")
    values = RulesVersion.objects.filter(pk=newest.pk).values().get()
    values.pop("id")
    RulesVersion(**{**values, "number": newest.number + 1}).save()

    assert codes(story) == ["row_unlogged"]


@pytest.mark.parametrize(
    ("sql", "found"),
    [
        ("UPDATE people_personaltext SET text = 'clumsy' WHERE erased_at IS NULL", "text_changed"),
        ("UPDATE people_personaltext SET salt = 'x' WHERE erased_at IS NULL", "text_changed"),
        ("DELETE FROM people_personaltext WHERE erased_at IS NULL", "text_missing"),
        ("DELETE FROM people_personaltext WHERE erased_at IS NOT NULL", "text_missing"),
        (
            (
                "UPDATE people_personaltext SET text = '', salt = '', erased_at = '2026-03-05'"
                " WHERE erased_at IS NULL"
            ),
            "text_erased_unlogged",
        ),
        (
            (
                "UPDATE people_personaltext SET text = 'x', salt = 'y', erased_at = NULL"
                " WHERE erased_at IS NOT NULL"
            ),
            "text_changed",
        ),
    ],
)
def test_words_that_were_changed_or_dropped_show(story, sql, found):
    by_hand(sql)

    assert codes(story)[0] == found


def test_words_without_an_entry_show(story, nils):
    PersonalText.objects.create(venue=story, about=nils, text="unheard of", salt="s")

    assert codes(story) == ["text_unlogged"]


@pytest.mark.parametrize("fields", [{"role": "owner"}, {"left_day": "2026-03-09"}])
def test_a_role_or_a_day_changed_past_the_log_shows(story, nils, fields):
    Membership.objects.filter(pk=nils.pk).update(**fields)

    assert codes(story) == ["membership_differs"]


def test_somebody_slipped_in_or_taken_out_shows(story, nils, ravna):
    Membership.objects.create(
        venue=story, person=ravna.person, role="manager", start_day=nils.start_day
    )

    assert codes(story) == ["membership_differs"]


def test_a_membership_that_is_gone_shows(odalys, house):
    marek = make.hire(odalys, "Marek", "manager")
    house.invitations.update(used_by=None, used_at=None)
    Membership.objects.filter(pk=marek.pk).delete()

    assert codes(house) == ["membership_missing"]


def permit_of(odalys, nils, **said):
    from barcourse.people import permits

    return permits.add_permit(
        by=odalys, member=nils, kind="serving", at=make.OPENED,
        valid_until=dt.date(2026, 11, 20), **said,
    )  # fmt: skip


def test_permits_as_they_were_noted_are_whole(odalys, nils, story):
    from barcourse.people import permits

    permit_of(odalys, nils)
    gone = permit_of(odalys, nils, number="A 12")
    permits.remove_permit(by=odalys, permit=gone, at=make.OPENED)

    assert codes(story) == []


@pytest.mark.parametrize(
    "change",
    [{"valid_until": "2036-11-20"}, {"valid_until": None}, {"kind": "licence"}],
    ids=["a later day", "no end", "another kind"],
)
def test_a_permit_changed_past_the_log_shows(odalys, nils, story, change):
    Permit.objects.filter(pk=permit_of(odalys, nils).pk).update(**change)

    assert codes(story) == ["permit_differs"]


def test_a_permit_given_to_another_slipped_in_or_taken_out_shows(odalys, nils, story):
    row = permit_of(odalys, nils)
    Permit.objects.filter(pk=row.pk).update(member=odalys)
    assert codes(story) == ["permit_differs"]
    Permit.objects.filter(pk=row.pk).update(member=nils, removed_at=make.OPENED)
    assert codes(story) == ["permit_missing"]
    Permit.objects.filter(pk=row.pk).update(removed_at=None)
    Permit.objects.create(venue=story, member=nils, kind="serving", seen_by=odalys, at=make.OPENED)
    assert codes(story) == ["permit_differs"]


@pytest.mark.parametrize("field", ["legal_age", "challenge_age"])
@pytest.mark.parametrize("is_set", [False, True])
def test_an_age_changed_past_the_log_shows(odalys, story, field, is_set):
    from barcourse.people import enrol

    if is_set:
        enrol.change_house(by=odalys, changes={field: 19}, at=make.OPENED)
    assert codes(story) == []
    Venue.objects.filter(pk=story.pk).update(**{field: 18})
    story.refresh_from_db()

    assert codes(story) == ["house_differs"]


def test_guards_that_are_lifted_show(story, guards_lifted):
    assert set(codes(story)) == {"guard_missing"}


def test_a_house_is_not_blamed_for_another(story, ravna):
    Membership.objects.filter(pk=ravna.pk).update(role="manager")

    assert (codes(story), codes(ravna.venue)) == ([], ["membership_differs"])


class TestCommand:
    """`manage.py check_log`: 0 whole, 1 not, 2 bad input."""

    def run(self, capsys, *args):
        try:
            call_command("check_log", *args)
            code = 0
        except SystemExit as stopped:
            code = stopped.code
        return code, *capsys.readouterr()

    def test_a_whole_log(self, story, capsys):
        code, out, err = self.run(capsys)

        assert (code, err) == (0, "")
        assert out == (
            f"Harbour Lights: {log.head(story).number} entries, nothing wrong."
            f" Head {log.head(story)}\n"
            "Whether its end was cut off shows only against a head printed before:"
            " check_log --head N:HASH.\n"
        )

    def test_without_a_printed_head_it_says_what_it_cannot_see(self, story, capsys):
        code, out, _ = self.run(capsys)
        as_json = json.loads(self.run(capsys, "--json")[1])

        assert code == 0
        assert "Whether its end was cut off shows only against a head printed before" in out
        assert as_json["held_against"] is None

    def test_as_json(self, story, capsys):
        code, out, _ = self.run(capsys, "--json", "--head", str(log.head(story)))

        assert code == 0
        assert json.loads(out) == {
            "venue": "harbour-lights",
            "head": str(log.head(story)),
            "whole": True,
            "findings": [],
            "held_against": str(log.head(story)),
        }

    def test_a_finding(self, story, nils, capsys):
        Membership.objects.filter(pk=nils.pk).update(role="owner")

        code, out, _ = self.run(capsys)
        as_json = json.loads(self.run(capsys, "--json")[1])

        assert (code, out) == (1, f"Role or last day of {nils.code} differs from the log.\n")
        assert as_json["whole"] is False
        assert as_json["findings"][0]["code"] == "membership_differs"
        assert as_json["findings"][0]["person"] == nils.code

    def test_a_head_that_is_not_in_it(self, story, capsys):
        code, out, _ = self.run(capsys, "--head", "1:" + "0" * 64)

        assert code == 1
        assert "is not in this log" in out

    @pytest.mark.parametrize(
        ("args", "sentence"),
        [
            (["--venue", "nowhere"], "There is no house 'nowhere'."),
            (["--head", "twelve"], "'twelve' is no head: NUMBER:HASH, as printed on a paper."),
        ],
    )
    def test_bad_input(self, story, capsys, args, sentence):
        assert self.run(capsys, *args) == (2, "", f"{sentence}\n")

    def test_two_houses_and_none_named(self, story, ravna, capsys):
        code, _, err = self.run(capsys)

        assert (code, err) == (
            2,
            "Say which house: --venue harbour-lights, --venue the-anchor-room\n",
        )
        assert self.run(capsys, "--venue", "the-anchor-room")[0] == 0

    def test_no_house_at_all(self, db, capsys):
        assert self.run(capsys) == (2, "", "There is no house yet.\n")
