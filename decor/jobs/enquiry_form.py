import hashlib
import secrets
from dataclasses import dataclass
from datetime import date
from typing import Any

from crispy_forms.bootstrap import InlineRadios
from crispy_forms.helper import FormHelper
from crispy_forms.layout import HTML, Div
from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict
from django.urls import reverse

from decor.clients.contacts import contact_from_text
from decor.clients.likeness import LikeClient, clients_like, clients_reached_by
from decor.form_layout import form_helper
from decor.jobs.days import DayInput, TimeInput, day_to_come
from decor.jobs.photo_field import PhotosField
from decor.jobs.photos import is_tray, photos_read, tray_new
from decor.jobs.service import Enquiry
from decor.models import Client
from decor.pictures import Picture

CHOSEN = "chosen by you"
SOMEONE_NEW = "new"
NAME_MISSING = "Who is asking? A first name will do."
CONTACT_MISSING = "Give one way to reach them: an email, a phone number, or anything else."
KNOWN_ALREADY = "Someone we know has {why}. Say below whether it is them."
NO_SUCH_CLIENT = "That client is not in the list. Choose again."
INDOORS, OUTDOORS = "", "yes"
SAME_PEOPLE = "decor/jobs/partials/same_people.html"
WAITING_PHOTOS = "decor/jobs/partials/waiting_photos.html"


def press_of(typed: QueryDict) -> str:
    """What was sent, as a fingerprint: alike for two presses of the button on one page.

    Every page carries a new `once`, so that the same words on another page are another enquiry;
    and other words on the same page, brought back by the browser, are another one too.
    """
    said = sorted((name, typed.getlist(name)) for name in typed if name != "csrfmiddlewaretoken")
    return hashlib.sha256(repr(said).encode()).hexdigest()


@dataclass(frozen=True)
class PeopleAsked:
    """Who it may be, and which of them was chosen: a client's number, `new`, or nothing yet."""

    likes: tuple[LikeClient, ...]
    who: str


def people_asked(*, name: str, contact: str, who: str) -> PeopleAsked:
    likes = clients_like(name=name, contact=contact)
    if who.isdecimal() and all(like.client.pk != int(who) for like in likes):
        chosen = Client.objects.filter(pk=who)
        likes = [*(LikeClient(client, CHOSEN) for client in chosen), *likes]
    return PeopleAsked(likes=tuple(likes), who=who)


class EnquiryForm(forms.Form):
    """Shaped for a phone held in one hand: only the first two boxes must be filled."""

    name = forms.CharField(max_length=120, error_messages={"required": NAME_MISSING})
    contact = forms.CharField(
        label="How to reach them",
        max_length=120,
        error_messages={"required": CONTACT_MISSING},
        help_text="An email, a phone number, or anything else that finds them.",
    )
    who = forms.CharField(required=False, widget=forms.HiddenInput)
    event_on = forms.DateField(label="Date", required=False, widget=DayInput)
    event_time = forms.TimeField(label="Time", required=False, widget=TimeInput)
    place = forms.CharField(
        max_length=120, required=False, help_text="As they say it: “library porch” is enough."
    )
    is_outdoor = forms.ChoiceField(
        label="Indoors or outdoors",
        choices=[(INDOORS, "Indoors"), (OUTDOORS, "Outdoors")],
        required=False,
        widget=forms.RadioSelect,
    )
    title = forms.CharField(
        label="What is it for",
        max_length=120,
        required=False,
        help_text="Such as “sixth birthday” or “shop window”.",
    )
    note = forms.CharField(
        max_length=4000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="Colours, size, wishes: whatever they told you.",
    )
    photos = PhotosField(
        required=False, help_text="Of the place, or of what they like. JPEG, PNG or WebP."
    )
    tray = forms.CharField(required=False, widget=forms.HiddenInput(attrs={"data-keep-also": ""}))
    once = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, today: date, client_pk: str = "", **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.keep = f"enquiry-{client_pk}" if client_pk.isdecimal() else "enquiry"
        self.helper = _layout(self.keep)
        # Someone known already can be reached.
        self.fields["contact"].required = not str(self["who"].value() or "").isdecimal()
        for name in ("name", "contact"):
            self.fields[name].widget.attrs.update(_asks_who_it_is())
        self.today = today
        self.pictures: tuple[Picture, ...] = ()
        self.fields["event_on"].widget.attrs["min"] = today.isoformat()
        self.initial.setdefault("tray", tray_new())
        self.initial.setdefault("once", secrets.token_hex(16))

    def clean_who(self) -> Client | str | None:
        who = self.cleaned_data["who"]
        if who in ("", SOMEONE_NEW):
            return who or None
        client = Client.objects.filter(pk=who).first() if who.isdecimal() else None
        if client is None:
            raise ValidationError(NO_SUCH_CLIENT, code="who")
        return client

    def clean_contact(self) -> str:
        contact = self.cleaned_data["contact"]
        contact_from_text(contact)
        return contact

    def clean_event_on(self) -> date | None:
        return day_to_come(self.cleaned_data["event_on"], today=self.today)

    def clean_tray(self) -> str:
        tray = self.cleaned_data["tray"]
        return tray if is_tray(tray) else tray_new()

    def clean_photos(self) -> None:
        """The good ones are in `pictures` even where others are refused."""
        read = photos_read(self.cleaned_data["photos"] or [])
        self.pictures = read.pictures
        if read.problems:
            raise ValidationError(list(read.problems))

    def clean(self) -> None:
        who, contact = self.cleaned_data.get("who"), self.cleaned_data.get("contact")
        if contact is None or "who" in self.errors:
            return
        if who is None and (known := clients_reached_by(contact)):
            self.add_error("contact", KNOWN_ALREADY.format(why=known[0].why))

    @property
    def people(self) -> PeopleAsked:
        return people_asked(
            name=self["name"].value() or "",
            contact=self["contact"].value() or "",
            who=str(self["who"].value() or ""),
        )

    def enquiry(self) -> Enquiry:
        said = self.cleaned_data
        return Enquiry(
            name=said["name"],
            contact=said["contact"],
            client=said["who"] if isinstance(said["who"], Client) else None,
            title=said["title"],
            event_on=said["event_on"],
            event_time=said["event_time"],
            place=said["place"],
            is_outdoor=said["is_outdoor"] == OUTDOORS,
            note=said["note"],
            tray=said["tray"],
            press=press_of(self.data) if said["once"] else None,
        )


def _layout(keep: str) -> FormHelper:
    """`who` is asked by same_people.html, only where there is someone it may be."""
    return form_helper(
        "name",
        "contact",
        HTML('<div id="same-people" aria-live="polite">{% include "' + SAME_PEOPLE + '" %}</div>'),
        Div(
            Div("event_on", css_class="col-7"),
            Div("event_time", css_class="col-5"),
            css_class="row g-2",
        ),
        "place",
        InlineRadios("is_outdoor"),
        "title",
        "note",
        HTML(f'{{% include "{WAITING_PHOTOS}" %}}'),
        "photos",
        "tray",
        "once",
        submit="Save the enquiry",
        keep=keep,
    )


def _asks_who_it_is() -> dict[str, str]:
    return {
        "autocomplete": "off",
        "hx-get": reverse("enquiry_same_people"),
        "hx-trigger": "input changed delay:300ms, keep:restored from:closest form",
        "hx-include": "#id_name, #id_contact, [name=who]:checked",
        "hx-target": "#same-people",
        "hx-sync": "#same-people:queue last",
    }
