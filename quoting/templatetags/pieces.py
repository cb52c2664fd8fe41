"""What the piece pages cannot say by themselves."""

from collections.abc import Mapping
from typing import Any
from urllib.parse import urlencode

from django import template
from django.forms import BoundField
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from decor.models import Job
from decor.templatetags.look import palette_string
from inventory.models import Colour
from quoting.pieces.notes import Note
from quoting.pieces.panel import BalloonCell
from quoting.pieces.specs import piece_spec
from quoting.pieces.words import Swatch, colour_keys

register = template.Library()

_COLOURS_OF_PAGE = "colours_of_page"


@register.simple_tag
def note(name: str, notes: Mapping[str, Note], oob: bool = False) -> SafeString:
    """What stands under a field. `oob`: to be put into a page that is open already.

    Not a template: every answer to a change carries a hundred of them.
    """
    shown = notes.get(name, Note())
    return format_html(
        '<p id="note-{}" class="field-note{}"{}{}>{}{}</p>',
        name,
        " field-wrong" if shown.is_error else "",
        format_html(' data-usual="{}"', shown.usual) if shown.usual else "",
        mark_safe(' hx-swap-oob="true"') if oob else "",
        mark_safe('<span class="visually-hidden">Please mend: </span>') if shown.is_error else "",
        shown.text,
    )


@register.simple_tag
def typed_field(field: BoundField, notes: Mapping[str, Note], **attrs: Any) -> str:
    """The control with what it usually takes shown in it."""
    usual = notes.get(field.name, Note()).usual
    shown = {"placeholder": usual} if usual else {}
    shown |= {name.replace("_", "-"): value for name, value in attrs.items()}
    return field.as_widget(attrs=shown)


@register.simple_block_tag(takes_context=True)
def opens(context: template.Context, content: str, *keys: str) -> SafeString:
    """A figure that opens to where it comes from. `keys` are those of the explanations."""
    address = reverse("piece_explain", args=[context["piece"].pk])
    query = urlencode([("key", key) for key in keys])
    return format_html('<a class="figure" href="{}?{}">{}</a>', address, query, content)


@register.simple_block_tag(takes_context=True)
def opens_cell(context: template.Context, content: str, cell: BalloonCell) -> SafeString:
    return opens(context, content, *cell.explain)


@register.inclusion_tag("partials/palette_string.html", takes_context=True)
def palette_of_job(context: template.Context, job: Job) -> dict[str, Any]:
    """Colours of a job's newest quote. Prefetch `quotes__pieces` where there are many jobs."""
    return palette_string(_swatches(job, _colours(context)))


def _swatches(job: Job, colours: Mapping[str, Colour]) -> list[Swatch]:
    quotes = list(job.quotes.all())
    pieces = [piece for piece in quotes[0].pieces.all() if piece.counts] if quotes else []
    specs = [piece_spec(piece) for piece in pieces]
    keys = dict.fromkeys(key for spec in specs if spec for key in colour_keys(spec))
    return [Swatch(colours[key].name, colours[key].hex) for key in keys if key in colours]


def _colours(context: template.Context) -> Mapping[str, Colour]:
    """By key; asked for once a page, however many jobs it lists."""
    request = context.get("request")
    found = getattr(request, _COLOURS_OF_PAGE, None)
    if found is None:
        found = Colour.objects.in_bulk(field_name="key")
        if request is not None:
            setattr(request, _COLOURS_OF_PAGE, found)
    return found
