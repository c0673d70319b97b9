"""What there is to read, and a question about it, as they are typed."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as lazy

from barcourse.people.models import Venue
from recipes.models import Lesson, Module, Scenario
from recipes.publish_lessons import MOST_CHOICES, Question, question_of

MARKDOWN = lazy(
    "In Markdown: an empty line between paragraphs, “## ” before a heading, “- ” before each line "
    "of a list, **two stars** around what must be seen. A line {house garnish}, {house doubles}, "
    "{house pours} or {house words} shows the house's own rules as they are that day."
)


def _text(label: Any, rows: int, most: int, **told: Any) -> forms.CharField:
    widget = forms.Textarea(attrs={"rows": rows})
    return forms.CharField(label=label, max_length=most, widget=widget, **told)


class NotesForm(forms.Form):
    notes = _text(lazy("Notes"), 14, 20_000, help_text=MARKDOWN, required=False)

    def clean_notes(self) -> str:
        return unix(self.cleaned_data["notes"])


class LessonForm(forms.Form):
    name = forms.CharField(label=lazy("Title"), max_length=80)
    module = forms.ModelChoiceField(
        label=lazy("Module"), queryset=Module.objects.none(), empty_label=None, to_field_name="slug"
    )
    body = _text(lazy("Text"), 18, 40_000, help_text=MARKDOWN)

    def __init__(
        self, *args: Any, venue: Venue, module: Module, lesson: Lesson | None = None, **kwargs: Any
    ) -> None:
        begun = {"module": module.slug}
        if lesson:
            begun |= {"name": lesson.name, "body": lesson.body}
        kwargs["initial"] = begun
        super().__init__(*args, **kwargs)
        self.fields["module"].queryset = Module.objects.in_house(venue)  # type: ignore[attr-defined]

    def clean_body(self) -> str:
        return unix(self.cleaned_data["body"])

    def clean_name(self) -> str:
        return " ".join(self.cleaned_data["name"].split())


class QuestionForm(forms.Form):
    question = _text(lazy("What happens at the bar"), 3, 600)
    choices = _text(
        lazy("Answers to choose from"),
        5,
        1500,
        help_text=lazy(
            "One a line, two to five of them. They are shown in another order each time."
        ),
    )
    right = forms.TypedChoiceField(
        label=lazy("Which of them is right"),
        coerce=int,
    )
    critical = forms.BooleanField(
        label=lazy("A wrong answer can hurt somebody: missing it fails the quiz"), required=False
    )
    why = _text(lazy("Why it is right"), 3, 800)

    def __init__(self, *args: Any, scenario: Scenario | None = None, **kwargs: Any) -> None:
        kwargs["initial"] = _written(scenario)
        super().__init__(*args, **kwargs)
        numbered = [(n, ORDINALS[n]) for n in range(MOST_CHOICES)]
        self.fields["right"].choices = numbered  # type: ignore[attr-defined]  # it has them

    def clean_choices(self) -> tuple[str, ...]:
        lines = (" ".join(line.split()) for line in self.cleaned_data["choices"].splitlines())
        return tuple(line for line in lines if line)

    def asked(self) -> Question:
        """What the form says; call it on a valid form."""
        said = self.cleaned_data
        return Question(
            question=unix(said["question"]),
            choices=said["choices"],
            right=said["right"],
            why=unix(said["why"]),
            critical=said["critical"],
        )


ORDINALS = (
    lazy("the first"),
    lazy("the second"),
    lazy("the third"),
    lazy("the fourth"),
    lazy("the fifth"),
)


class SureForm(forms.Form):
    sure = forms.BooleanField(label=lazy("Yes, remove it. This can't be undone."))


def unix(text: str) -> str:
    """Lines as the house keeps them, however the browser sent them."""
    return text.replace("\r\n", "\n").strip()


def _written(scenario: Scenario | None) -> dict[str, Any]:
    if scenario is None:
        return {}
    held = question_of(scenario)
    return {
        "question": held.question,
        "choices": "\n".join(held.choices),
        "right": held.right,
        "critical": held.critical,
        "why": held.why,
    }
