"""How far a count fell from its plan, in words."""

from django import template

register = template.Library()


@register.filter
def more_or_less(count: int) -> str:
    """`3 more`, `2 fewer` or `as planned`, spares among what was planned."""
    if not count:
        return "as planned"
    return f"{count} more" if count > 0 else f"{-count} fewer"
