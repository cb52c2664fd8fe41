from django import template
from django.db.models import QuerySet

from decor.letters.lists import letters_of
from decor.models import Job, Letter

register = template.Library()


@register.simple_tag
def letters_of_job(job: Job) -> QuerySet[Letter]:
    return letters_of(job)
