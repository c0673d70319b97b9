from django.apps import AppConfig
from django.utils.translation import gettext_lazy as _


class AssessmentsConfig(AppConfig):
    name = "assessments"
    label = "assessments"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from assessments import (
            calls_whole,
            quizzes_whole,
            ready_touched,
            wording_log,
            wording_refusals,
        )
        from assessments.under_way import being_asked
        from barcourse.people import log_check, wording
        from recipes import call_reader_shut

        wording.name_kinds(
            {
                "quiz_finished": _("finished a quiz"),
                "calls_finished": _("finished call practice"),
                "build_watched": _("watched a build"),
                "signed_off": _("signed off"),
                "build_voided": _("voided a watched build"),
                "build_taken_back": _("took back a watched build, a slip of the thumb"),
                "hands_voided": _("took back what was on record of"),
                "sheet_made": _("planned a quiz"),
                "sheet_changed": _("changed the plan of a quiz"),
                "sheet_retired": _("took a quiz out of use"),
                "drill_set": _("set a drill for"),
                "try_out_offered": _("offered a try-out to"),
                "try_out_begun": _("began a try-out"),
                "try_out_taken_back": _("took back the try-out offered to"),
                "spot_marked": _("marked a drink in service by"),
                "pour_policy_set": _("said when a pour check is passed"),
                "pours_checked": _("checked the pours of"),
                "pours_measured": _("measured pours in a build by"),
                "pace_checked": _("checked the pace of"),
                "round_watched": _("watched a round by"),
                "sales_imported": _("took in what the till sold"),
                "sales_withdrawn": _("took an export of the till back"),
                "till_names_told": _("said what names on the till mean"),
                "record_answered": _("answered a watched build"),
                "let_stand": _("let a build stand after an answer by"),
                "entry_answered": _("answered an entry in the record"),
                "entry_stands": _("let an entry stand after an answer by"),
                "marked_too": _("marked a second time a build by"),
                "marks_seen": _("opened the marks of a build by"),
                "plan_decided": _("decided how to go on with"),
                "watch_dropped": _("dropped, unrecorded, a watch begun by"),
                "handed_over": _("handed on an open build by"),
                "shift_set": _("set a shift of"),
                "shift_taken_off": _("took off a shift of"),
                "hook_kept": _("kept a hook on a drink"),
                "ready_policy_set": _("set what ready takes"),
                "let_stand_once": _("gave their word for one shift of"),
                "override_ended": _("took back the word given for one shift of"),
                "made_instead": _("said which drink was made instead by"),
            }
        )
        wording.tell_facts(wording_log.TELLERS)
        wording.name_findings(wording_refusals.FINDINGS)
        log_check.also(quizzes_whole.find)
        log_check.also(calls_whole.find)
        call_reader_shut.also(being_asked)
        ready_touched.listen()
