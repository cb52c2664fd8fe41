"""What the palette page and the piece's fold of colours cannot say by themselves."""

from django import template
from django.forms import BaseForm, BoundField
from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from quoting.palettes.apart import apart_line

register = template.Library()


@register.simple_tag
def ticked(field: BoundField) -> list[str]:
    """The keys ticked, be they possible or not."""
    return list(field.value() or ())


@register.simple_tag
def colours_apart(form: BaseForm, oob: bool = False) -> SafeString:
    """One line on which of a piece's ticked colours are hard to tell apart; empty is well.

    `oob`: to be put into a page that is open already.
    """
    colours = [form.shelf.latex_colour(key) for key in form.ticked("base") + form.ticked("accents")]
    line = apart_line({colour.name: colour.hex for colour in colours if colour})
    return format_html(
        '<p id="colours-apart" class="field-note"{}>{}</p>',
        mark_safe(' hx-swap-oob="true"') if oob else "",
        line,
    )
