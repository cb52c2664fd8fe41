from datetime import date
from typing import Any

from crispy_forms.layout import Div
from django import forms
from django.core.exceptions import ValidationError
from django.urls import reverse

from decor.form_layout import form_helper
from decor.jobs.days import DayInput, TimeInput, day_to_come
from decor.jobs.lists import When
from decor.jobs.photo_field import PhotosField
from decor.jobs.photos import photos_read
from decor.jobs.stages import SAY_WHY, ways_from
from decor.models import Job
from decor.models.job import Stage
from decor.pictures import Picture

NO_PHOTO_CHOSEN = "Choose one photo or more first."


class JobForm(forms.ModelForm):
    """The place is one of the client's own, or a new one typed here."""

    new_place = forms.CharField(
        label="Or another place",
        max_length=120,
        required=False,
        help_text="Fill this only if the place is not in the list above.",
    )
    is_outdoor = forms.BooleanField(label="The other place is outdoors", required=False)

    class Meta:
        model = Job
        fields = ("title", "event_on", "event_time", "site", "note")
        labels = {
            "title": "What is it for",
            "event_on": "Date",
            "event_time": "Time",
            "site": "Place",
        }
        widgets = {
            "event_on": DayInput,
            "event_time": TimeInput,
            "note": forms.Textarea(attrs={"rows": 6}),
        }
        error_messages = {"title": {"required": "Give it a short name you will know it by."}}

    def __init__(self, *args: Any, today: date, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.today = today
        self.helper = form_helper(
            "title",
            Div(
                Div("event_on", css_class="col-7"),
                Div("event_time", css_class="col-5"),
                css_class="row g-2",
            ),
            "site",
            "new_place",
            "is_outdoor",
            "note",
            submit="Save the job",
            keep=f"job-{self.instance.pk}",
            back_url=reverse("job_detail", args=[self.instance.pk]),
        )
        self.fields["site"].queryset = self.instance.client.sites.all()
        self.fields["site"].empty_label = "Not known yet"

    def clean_event_on(self) -> date | None:
        """A day gone by may stay as it was; it cannot be newly given."""
        day = self.cleaned_data["event_on"]
        return day_to_come(day, today=self.today) if "event_on" in self.changed_data else day


class MoveForm(forms.Form):
    """What moved by hand. Calling off has a page of its own: it says what is given back."""

    to = forms.ChoiceField(label="What happened")
    reason = forms.CharField(label="Why", max_length=300, error_messages={"required": SAY_WHY})

    def __init__(self, *args: Any, stage: str, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        ways = [way for way in ways_from(stage) if way.to != Stage.CALLED_OFF]
        self.fields["to"].choices = [(way.to.value, way.words) for way in ways]


class PhotosForm(forms.Form):
    photos = PhotosField(label="Add photos", help_text="JPEG, PNG or WebP, up to 20 MB each.")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["photos"].error_messages["required"] = NO_PHOTO_CHOSEN
        self.pictures: tuple[Picture, ...] = ()

    def clean_photos(self) -> None:
        """The good ones are in `pictures` even where others are refused."""
        read = photos_read(self.cleaned_data["photos"])
        self.pictures = read.pictures
        if read.problems:
            raise ValidationError(list(read.problems))


class JobSearchForm(forms.Form):
    """What a list shows. A word it does not know is as good as none, so old links still work."""

    search = forms.CharField(label="Search", required=False, max_length=120)
    stage = forms.ChoiceField(choices=[("", "Any stage"), *Stage.choices], required=False)
    when = forms.ChoiceField(choices=When.choices, required=False)

    def wanted(self) -> dict[str, str]:
        self.full_clean()
        said = getattr(self, "cleaned_data", {})
        return {
            "search": said.get("search", ""),
            "stage": said.get("stage", ""),
            "when": said.get("when") or When.UPCOMING,
        }

    def in_words(self) -> str:
        wanted = self.wanted()
        words = [When(wanted["when"]).label.lower()]
        words += [Stage(wanted["stage"]).label.lower()] if wanted["stage"] else []
        words += [f"found by “{wanted['search']}”"] if wanted["search"] else []
        return ", ".join(words)
