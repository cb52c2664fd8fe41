"""The parts of the look that a template cannot say by itself."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django import template
from django.contrib.messages.storage.base import Message
from django.forms import BaseForm

from decor.crew.access import HELPER_MAY, helper_of
from decor.jobs.stages import ON_THE_STRING
from decor.models.job import Stage

register = template.Library()


@dataclass(frozen=True)
class Place:
    """One place to go. `rooms` are the beginnings of the URL names that belong to it."""

    label: str
    url_name: str
    icon: str
    rooms: tuple[str, ...]

    def holds(self, url_name: str) -> bool:
        return url_name.startswith(self.rooms)


SHELF_ROOMS = (
    "shelf", "bag_", "delivery_", "supplier_", "counting_", "label_", "loss_", "buy_", "order_",
    "catalogue", "colour_", "item_",
)  # fmt: skip
JOB_ROOMS = ("job_", "photo", "quote_", "edition_", "piece_", "palette_")
# The bar has room for six with the new enquiry in its middle; the rest go under More.
BAR = (
    Place("Today", "home", "today", ("home",)),
    Place("Jobs", "job_list", "jobs", JOB_ROOMS),
    Place("Shelf", "shelf", "shelf", SHELF_ROOMS),
    Place("Calendar", "calendar_month", "calendar", ("calendar_", "visit_")),
)
NEW_ENQUIRY_AFTER = 2
UNDER_MORE = (
    Place("Clients", "client_list", "clients", ("client_", "site_")),
    Place("Money", "money_list", "money", ("money_", "payment_", "refund_")),
    Place("Reports", "report_list", "reports", ("report",)),
    Place("Letters", "letter_list", "letters", ("letter_",)),
    Place("Crew", "crew_list", "crew", ("crew_",)),
    Place("Rates", "rate_card_list", "rates", ("rate_card_",)),
    Place("Business", "business_edit", "business", ("business_",)),
)
# A helper's places: of the owner's those that a helper may open, after their own first page.
HELPERS_TODAY = Place("Today", "work_today", "today", ("home", "work_"))
HELPERS_UNDER_MORE = (Place("Password", "own_password", "password", ("own_password",)),)


@register.inclusion_tag("partials/places.html", takes_context=True)
def places(context: template.Context) -> dict[str, Any]:
    request = context.get("request")
    match = getattr(request, "resolver_match", None)
    here = (match and match.url_name) or ""
    is_helper = request is not None and helper_of(request) is not None
    bar, more = (_helpers_bar(), HELPERS_UNDER_MORE) if is_helper else (BAR, UNDER_MORE)
    return {
        "bar": [(place, place.holds(here)) for place in bar],
        "more": [(place, place.holds(here)) for place in more],
        "more_holds_here": any(place.holds(here) for place in more),
        "new_enquiry_after": None if is_helper else NEW_ENQUIRY_AFTER,
        "taking_enquiry": here.startswith("enquiry_"),
        "csrf_token": context.get("csrf_token"),
    }


def _helpers_bar() -> tuple[Place, ...]:
    others = HELPER_MAY - {"home"}  # which leads a helper to their own first page
    return (HELPERS_TODAY, *(place for place in BAR if place.url_name in others))


# A job ends early from one of these stages, so at least the string up to here was walked.
ENDED_AFTER = {Stage.LET_GO: Stage.ASKED, Stage.LOST: Stage.ASKED, Stage.CALLED_OFF: Stage.PROMISED}


@register.inclusion_tag("partials/stage_string.html")
def stage_string(stage: str, reached: str = "") -> dict[str, Any]:
    """A job's stages; `reached` is the last stage of a job that ended early, where it is known."""
    ended = Stage(stage) if stage in ENDED_AFTER else None
    last = (
        ON_THE_STRING.index(Stage(reached or ENDED_AFTER[ended]))
        if ended
        else ON_THE_STRING.index(Stage(stage))
    )
    steps = [
        {"word": step.label, "state": _step_state(at, last, ended=ended is not None)}
        for at, step in enumerate(ON_THE_STRING[: last + 1] if ended else ON_THE_STRING)
    ]
    return {"steps": steps, "ended": ended}


def _step_state(at: int, last: int, *, ended: bool) -> str:
    if at < last or ended:
        return "passed"
    return "here" if at == last else "ahead"


COLOUR = re.compile(r"#[0-9a-fA-F]{6}")
PAPER_COLOUR = "#ffffff"


@register.filter
def safe_colour(value: str) -> str:
    """A colour for an SVG `fill`, white when the value is none."""
    return value if COLOUR.fullmatch(value or "") else PAPER_COLOUR


@register.inclusion_tag("partials/palette.html")
def palette(swatches: Iterable[Any]) -> dict[str, Any]:
    """A row of circles with their names. A swatch has a `name` and a `hex`."""
    return {"swatches": list(swatches)}


STRING_STEP = 14
STRING_MOST = 5


@register.inclusion_tag("partials/palette_string.html")
def palette_string(swatches: Iterable[Any]) -> dict[str, Any]:
    """The palette as a short string of circles, its names said to screen readers."""
    every = list(swatches)
    shown = every[:STRING_MOST]
    return {
        "names": ", ".join(swatch.name for swatch in every),
        "beads": [(12 + STRING_STEP * at, swatch.hex) for at, swatch in enumerate(shown)],
        "width": 24 + STRING_STEP * (max(len(shown), 1) - 1),
    }


@register.simple_tag
def form_problems(form: BaseForm) -> list[dict[str, str]]:
    """Each error of a form with the id of the field it is about, none for the form as a whole."""
    return [
        {"label": _label(form, name), "field_id": _field_id(form, name), "message": message}
        for name, messages in form.errors.items()
        for message in messages
    ]


def _label(form: BaseForm, name: str) -> str:
    return str(form[name].label) if name in form.fields else ""


def _field_id(form: BaseForm, name: str) -> str:
    if name not in form.fields:
        return ""
    bound = form[name]
    # A group of radios has no id of its own: its first choice is where the keyboard goes.
    return bound.id_for_label or f"{bound.auto_id}_0"


@register.filter
def saved_key(message: Message) -> str:
    """The form that a message `extra_tags="keep:<key>"` says is saved: see keep.js."""
    tags = (message.extra_tags or "").split()
    return next((tag.removeprefix("keep:") for tag in tags if tag.startswith("keep:")), "")
