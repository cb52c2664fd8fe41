from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

# Latex is best within about a year and a half, kept cool and dark: from memory.
LATEX_BEST_MONTHS = 18
# Between the day on which an order should come and the making: common practice, no source.
DAYS_TO_SPARE = 2


class ShelfSettings(models.Model):
    """What the owner may set about her shelf. There is one row at most; without it, the usual."""

    THE_ONE = 1

    latex_best_months = models.PositiveSmallIntegerField(
        default=LATEX_BEST_MONTHS, validators=[MinValueValidator(1), MaxValueValidator(120)]
    )

    days_to_spare = models.PositiveSmallIntegerField(
        default=DAYS_TO_SPARE, validators=[MinValueValidator(1), MaxValueValidator(60)]
    )

    class Meta:
        verbose_name_plural = "shelf settings"
        constraints = [
            models.CheckConstraint(condition=models.Q(id=1), name="there_is_one_shelf"),
            models.CheckConstraint(
                condition=models.Q(latex_best_months__gte=1), name="latex_is_good_for_a_while"
            ),
            models.CheckConstraint(
                condition=models.Q(days_to_spare__gte=1), name="an_order_has_a_day_to_spare"
            ),
        ]

    def __str__(self) -> str:
        return "Shelf settings"
