"""Pieces and their variants.

A variant is a piece like any other: the variants of one thing share their quote's `choice` number
and their position, and are told apart by `variant` (1 to 3, said A to C). Exactly one of them
`counts`: it alone is in the quote's total, and it is what the client gets until they choose
another. A piece without alternatives has no `choice` and counts. There is no head among variants,
so that any of them can be taken out or chosen; when one is left it is a plain piece again.
"""

from django.db import models

from quoting.models.quote import Quote

MOST_VARIANTS = 3
VARIANT_NAMES = "ABC"


class Piece(models.Model):
    """One garland in a quote: what was typed, and the last spec that could be made of it."""

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="pieces")
    position = models.PositiveIntegerField(default=0)
    choice = models.PositiveIntegerField(
        null=True, blank=True, help_text="Shared by the variants of one thing; empty: no variants"
    )
    variant = models.PositiveSmallIntegerField(default=1, help_text="Its place among variants")
    counts = models.BooleanField(default=True, help_text="It is the one in the quote's total")
    title = models.CharField(max_length=120)
    typed = models.JSONField(default=dict, help_text="Form fields as typed, valid or not")
    typed_count = models.PositiveIntegerField(
        default=0, help_text="How often something else was typed; tells windows apart in time"
    )
    typed_in = models.CharField(
        max_length=32, blank=True, help_text="The window in which it was typed last"
    )
    typed_serial = models.PositiveIntegerField(
        default=0, help_text="That window's own count, so that what comes late is not taken"
    )
    spec = models.JSONField(
        null=True, blank=True, help_text="Spec file format, version 1; empty until it is possible"
    )
    spec_is_behind = models.BooleanField(
        default=False, help_text="What was typed last is not possible, so the spec is of before"
    )
    fitted = models.JSONField(
        null=True, blank=True, help_text="What a budget made of it: fields before and after"
    )
    changed_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["position", "variant", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["quote", "choice"],
                condition=models.Q(counts=True),
                name="one_variant_counts",
            ),
            models.UniqueConstraint(
                fields=["quote", "choice", "variant"], name="variant_has_its_own_place"
            ),
            models.CheckConstraint(
                condition=models.Q(variant__gte=1, variant__lte=MOST_VARIANTS),
                name="there_are_at_most_three_variants",
            ),
            models.CheckConstraint(
                condition=models.Q(choice__isnull=False) | models.Q(counts=True, variant=1),
                name="a_piece_without_variants_counts",
            ),
        ]

    def __str__(self) -> str:
        return self.title

    @property
    def variant_name(self) -> str:
        """`A`, `B` or `C`; empty where there are no variants."""
        return "" if self.choice is None else VARIANT_NAMES[self.variant - 1]
