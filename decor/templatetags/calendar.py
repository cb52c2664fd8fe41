"""What templates of the calendar ask."""

from django import template

from decor.calendar.capacity import Minutes
from decor.calendar.of_job import VisitsOfJob, visits_of
from decor.calendar.sources import Event
from decor.crew.words import week_text
from decor.crew.work import is_open_to_helpers
from decor.display import hours_text
from decor.models import Job

register = template.Library()


@register.filter
def open_to(event: Event, is_helper: bool) -> bool:
    """Whether its page may be opened by whoever looks."""
    return not is_helper or is_open_to_helpers(event.url)


@register.filter
def of_hours(minutes: Minutes) -> str:
    """`4 h of 6 h`."""
    if not minutes.given and not minutes.taken:
        return "nobody works"
    if not minutes.taken:
        return f"{hours_text(minutes.given / 60)} free"
    return f"{hours_text(minutes.taken / 60)} of {hours_text(minutes.given / 60)}"


@register.simple_tag
def visits_of_job(job: Job) -> VisitsOfJob:
    return visits_of(job)


@register.filter
def minutes_as_hours(minutes: int) -> str:
    return hours_text(minutes / 60)


@register.filter
def week_in_words(week: str) -> str:
    return week_text(week)
