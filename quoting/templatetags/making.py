"""What the pages for the bench need beyond their context."""

import json
from dataclasses import dataclass

from django import template
from django.utils import timezone

from decor.models import Job
from decor.models.job import Stage
from inventory.models import Bag
from quoting.making import bags
from quoting.making.cards import Card
from quoting.making.sheet import Sheet, ShownLoad, making_sheet

register = template.Library()

WITH_A_SHEET = (Stage.PROMISED, Stage.MADE)


@register.filter
def parts_json(card: Card) -> str:
    """For a data attribute; escaped like any other text."""
    return json.dumps(card.parts)


@register.filter
def load_parts_json(shown: ShownLoad) -> str:
    step = shown.step
    part = {"job": step.job.pk, "step": step.step.name, "target": 1, "count": step.count}
    return json.dumps([part])


@register.filter
def bag_words(bag: Bag) -> str:
    return bags.bag_words(bag)


@dataclass(frozen=True)
class MakingOfJob:
    sheet: Sheet
    hours: float


@register.simple_tag
def making_of_job(job: Job) -> MakingOfJob | None:
    """None before the promise, and once it hangs."""
    if job.stage not in WITH_A_SHEET or job.is_archived:
        return None
    sheet = making_sheet(job, now=timezone.now())
    return MakingOfJob(sheet, sum(clock.person_hours for clock in sheet.clocks))
