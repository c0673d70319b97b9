"""What is typed on these pages. Forms check the shape; the verbs of `record` the rules."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.doubts import in_words
from assessments.models.practical import Came
from assessments.models.watch import Help, MadeWith
from assessments.wording_refusals import say
from barcourse.people.reasons import Refused

NOTE_LENGTH = 500
LONGEST_BUILD_S = 3600
LONGEST_LOOK_MS = 10 * 60 * 1000
"""What lay open for over ten minutes says nothing about how fast somebody knows (our own
number, no source)."""


class refusals_beside:  # noqa: N801  (reads as a word: `with refusals_beside(form):`)
    """Put a verb's refusal into the form, beside its field, and go on after the block."""

    def __init__(self, form: forms.BaseForm) -> None:
        self.form = form

    def __enter__(self) -> None:
        pass

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: object
    ) -> bool:
        if not isinstance(error, Refused):
            return False
        field = error.field if error.field in self.form.fields else None
        self.form.add_error(field, say(error.reason))
        return True


class WordsField(forms.CharField):
    """A few words. What can't be seen (controls, save the end of a line) becomes a space."""

    default_error_messages = {
        "max_length": _(
            "That is %(show_value)s characters, and %(limit_value)s fit. Say it shorter."
        ),
    }

    def __init__(self, **kwargs: object) -> None:
        super().__init__(
            max_length=NOTE_LENGTH,
            widget=forms.Textarea({"rows": 2}),
            **kwargs,  # type: ignore[arg-type]
        )

    def to_python(self, value: object) -> str:
        said = (super().to_python(value) or "").replace("\r\n", "\n")
        words = "".join(_visible(letter) for letter in said).strip()
        if said.strip() and not words:
            raise forms.ValidationError(_("None of that can be read. Write it anew, or leave it."))
        return words


def _visible(letter: str) -> str:
    return " " if unicodedata.category(letter) == "Cc" and letter != "\n" else letter


class DoubtedForm(forms.Form):
    """What can hardly be is asked about once (`doubts`); the tick that says it is so carries the
    question, so that it stands for nothing else."""

    doubted = ""

    @property
    def is_sure(self) -> bool:
        return bool(self.doubted) and self.data.get("sure") == self.doubted

    def is_believed(self, doubts: Sequence[str]) -> bool:
        """Whether the form may be put on record; else it says what is hardly so."""
        self.doubted = in_words(doubts)
        if self.doubted and not self.is_sure:
            self.add_error(None, self.doubted)
            return False
        return True


class HelpField(forms.ChoiceField):
    """Nothing stands chosen: whoever watched says it, since an unprompted pass proves."""

    def __init__(self, **kwargs: object) -> None:
        super().__init__(
            label=_("Help"),
            choices=Help.choices,
            widget=forms.RadioSelect,
            error_messages={"required": _("Say how much help there was.")},
            **kwargs,  # type: ignore[arg-type]
        )


class MadeWithField(forms.ChoiceField):
    """Nothing stands chosen: most builds to learn with are water, and stock is counted as used.
    Either one set beforehand would put the other on record wrongly, unseen, wherever the thumb
    goes straight to the button."""

    def __init__(self, **kwargs: object) -> None:
        super().__init__(
            label=_("Made with"),
            choices=MadeWith.choices,
            widget=forms.RadioSelect,
            error_messages={"required": _("Say whether it was made with stock or with water.")},
            **kwargs,  # type: ignore[arg-type]
        )


class NoteForm(forms.Form):
    """A few words about one build."""

    note = WordsField(
        label=_("Note"),
        required=False,
        help_text=_("The hire sees it at once. It can be erased later."),
    )


class WatchForm(NoteForm, DoubtedForm):
    """How the build went, beside the steps themselves."""

    help_level = HelpField()
    made_with = MadeWithField()
    seconds = forms.IntegerField(
        label=_("Seconds taken"), required=False, min_value=0, max_value=LONGEST_BUILD_S
    )


class VoidForm(forms.Form):
    reason = WordsField(
        label=_("Why does it not count?"),
        error_messages={"required": _("Write why it does not count.")},
    )


class AnswerForm(forms.Form):
    """What a hire says to an entry of theirs."""

    words = WordsField(
        label=_("In a few words"),
        help_text=_("Your trainer and the managers see it. It can be erased."),
        error_messages={"required": _("Say it in a few words.")},
    )
    disagrees = forms.BooleanField(
        label=_("I see it differently: a manager should look at it"), required=False
    )


class SpotForm(forms.Form):
    """How one drink went out. The buttons of the page send it."""

    came = forms.ChoiceField(choices=Came.choices)
    sent_back = forms.BooleanField(required=False)


class NoForm(forms.Form):
    """A button; it only has somewhere to put a refusal."""


def milliseconds(said: str) -> int | None:
    """What a phone says it took, None for nonsense and for what lay open too long."""
    if not (said.isascii() and said.isdecimal() and len(said) < 9):
        return None
    return int(said) if int(said) <= LONGEST_LOOK_MS else None
