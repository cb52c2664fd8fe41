from decimal import Decimal

from django.core.validators import RegexValidator
from django.db import models
from django.db.models.functions import Lower

HEX_COLOUR = RegexValidator(
    r"^#[0-9a-f]{6}$", "Give a colour as # and six digits, such as #7a9e6b."
)


class Finish(models.TextChoices):
    PLAIN = "plain", "Plain"
    PEARL = "pearl", "Pearl"
    SHINY = "shiny", "Shiny"
    CLEAR = "clear", "Clear"


class Colour(models.Model):
    """A balloon colour by the owner's own name.

    `key` is how specs name it. It is made from the first name and never changes, so that quotes
    made long ago still find their colour under its new name.
    """

    key = models.SlugField(max_length=40, unique=True, editable=False)
    name = models.CharField(max_length=60)
    hex = models.CharField(max_length=7, validators=[HEX_COLOUR])
    finish = models.CharField(max_length=10, choices=Finish, default=Finish.PLAIN)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        ordering = [Lower("name")]
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                name="one_colour_per_name",
                violation_error_message="There is a colour of that name already.",
            ),
            models.CheckConstraint(condition=~models.Q(name=""), name="colour_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_archived(self) -> bool:
        return self.archived_at is not None


class Kind(models.TextChoices):
    LATEX = "latex", "Latex balloon"
    FOIL = "foil", "Foil starburst point"
    SUNDRY = "sundry", "Sundry"


class Item(models.Model):
    """A thing that is bought by the bag: a balloon of one colour and size, or a sundry."""

    kind = models.CharField(max_length=10, choices=Kind)
    colour = models.ForeignKey(
        Colour, on_delete=models.PROTECT, related_name="items", null=True, blank=True
    )
    nominal_in = models.PositiveSmallIntegerField(null=True, blank=True)
    name = models.CharField(max_length=60, blank=True, help_text="Of a sundry")
    unit = models.CharField(max_length=20, default="each")
    bag_count = models.PositiveIntegerField()
    bag_cents = models.BigIntegerField()
    is_special_order = models.BooleanField(default=False)
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        ordering = ["kind", Lower("colour__name"), "nominal_in", "name"]
        constraints = [
            models.UniqueConstraint(
                fields=["colour", "nominal_in"],
                condition=models.Q(kind="latex"),
                name="one_item_per_latex_colour_and_size",
            ),
            models.UniqueConstraint(
                fields=["colour"],
                condition=models.Q(kind="foil"),
                name="one_item_per_foil_colour",
            ),
            models.UniqueConstraint(
                fields=["name"], condition=models.Q(kind="sundry"), name="one_item_per_sundry"
            ),
            models.CheckConstraint(
                condition=models.Q(kind="latex", colour__isnull=False, nominal_in__gt=0)
                | models.Q(kind="foil", colour__isnull=False)
                | (models.Q(kind="sundry", colour__isnull=True) & ~models.Q(name="")),
                name="item_is_described_by_its_kind",
            ),
            models.CheckConstraint(
                condition=models.Q(bag_count__gt=0, bag_cents__gte=0),
                name="item_bag_has_a_count_and_a_price",
            ),
        ]

    def __str__(self) -> str:
        if self.kind == Kind.SUNDRY:
            return self.name
        if self.kind == Kind.FOIL:
            return f"{self.colour} starburst points"
        return f"{self.colour} {self.nominal_in}-inch"

    @property
    def is_archived(self) -> bool:
        return self.archived_at is not None

    @property
    def unit_cents(self) -> Decimal:
        """Of one balloon, band or metre: often less than a cent."""
        return Decimal(self.bag_cents) / self.bag_count
