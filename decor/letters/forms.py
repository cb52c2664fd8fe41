import uuid
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from decor.letters.attachments import Offer
from decor.letters.filling import filled, late_in, one_line, problems_of
from decor.letters.service import LONGEST_BODY, LONGEST_SUBJECT, letter_compose
from decor.letters.texts import Words, words_of
from decor.models import Job, LetterText
from decor.models.letter import LetterKind

NOT_IN_A_SUBJECT = "{{{name}}} is a secret: it can stand in the letter, not in its subject."
NOT_THEIR_ADDRESS = (
    "This is not the address you have for {client} ({email}). Tick below if it shall go there."
)
LONGEST_TEXT = LetterText._meta.get_field("body").max_length
JOBS_TO_TRY = 20


def clean_words(text: str) -> str:
    problems = problems_of(text)
    if problems:
        raise ValidationError(problems, code="field")
    return text


def clean_subject(text: str) -> str:
    secrets = [NOT_IN_A_SUBJECT.format(name=field.name) for field in late_in(text)]
    if secrets:
        raise ValidationError(secrets, code="secret")
    return clean_words(text)


class LetterTextForm(forms.Form):
    subject = forms.CharField(max_length=LONGEST_SUBJECT)
    body = forms.CharField(
        label="Letter", max_length=LONGEST_TEXT, widget=forms.Textarea(attrs={"rows": 16})
    )
    job = forms.ModelChoiceField(
        label="Try it on",
        queryset=Job.objects.none(),
        required=False,
        empty_label=None,
        help_text="Only to look at: nothing is sent.",
    )

    def __init__(self, *args: Any, kind: str, jobs: list[Job], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        words = words_of(kind)
        self.initial = {"subject": words.subject, "body": words.body, **self.initial}
        jobs_to_try = self.fields["job"]
        jobs_to_try.queryset = Job.objects.filter(pk__in=[job.pk for job in jobs])
        jobs_to_try.choices = [(job.pk, f"{job.title}, {job.client.name}") for job in jobs]
        if not jobs:
            del self.fields["job"]

    def clean_subject(self) -> str:
        return clean_subject(one_line(self.cleaned_data["subject"]))

    def clean_body(self) -> str:
        return clean_words(self.cleaned_data["body"])

    def words(self) -> Words:
        return Words(self.cleaned_data["subject"], self.cleaned_data["body"])


class LetterForm(forms.Form):
    """A letter for one job, composed and open to change. `press` tells one press of Send from
    every other."""

    to = forms.EmailField(label="To", max_length=254)
    elsewhere = forms.BooleanField(label="Send it to this other address", required=False)
    subject = forms.CharField(max_length=LONGEST_SUBJECT)
    body = forms.CharField(
        label="Letter", max_length=LONGEST_BODY, widget=forms.Textarea(attrs={"rows": 16})
    )
    attach = forms.BooleanField(required=False)
    press = forms.UUIDField(widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, job: Job, kind: LetterKind, attachment: Offer | None, **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.job = job
        subject, body = letter_compose(kind, job)
        self.initial = {
            "to": job.client.email,
            "subject": subject,
            "body": body,
            "attach": True,
            "press": uuid.uuid4(),
        }
        self.fields["to"].help_text = self._whose_address()
        if attachment:
            self.fields["attach"].label = f"Attach {attachment.name}"
        else:
            del self.fields["attach"]
        if not self._goes_elsewhere():
            del self.fields["elsewhere"]

    def clean_subject(self) -> str:
        return one_line(filled(clean_subject(self.cleaned_data["subject"]), self.job))

    def clean_body(self) -> str:
        body = clean_words(self.cleaned_data["body"])
        missing = [said for field in late_in(body) if (said := field.missing(self.job))]
        if missing:
            raise ValidationError(missing, code="missing")
        return filled(body, self.job)

    def clean(self) -> None:
        asks = bool(self.cleaned_data.get("to")) and "elsewhere" in self.fields
        if asks and not self.cleaned_data["elsewhere"]:
            client = self.job.client
            self.add_error("to", NOT_THEIR_ADDRESS.format(client=client.name, email=client.email))

    def _whose_address(self) -> str:
        client = self.job.client
        if client.email:
            return f"{client.name}'s address."
        return f"You have no e-mail address of {client.name}: type one, or take the text to copy."

    def _goes_elsewhere(self) -> bool:
        known = self.job.client.email
        typed = str(self.data.get(self.add_prefix("to"), "")).strip() if self.is_bound else known
        return bool(known and typed and typed.casefold() != known.casefold())


class CopyForm(LetterForm):
    """The same letter, to be copied into a message: it needs no address."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name in ("to", "subject"):
            self.fields[name].required = False
        self.fields.pop("elsewhere", None)

    def clean_subject(self) -> str:
        return self.cleaned_data["subject"]
