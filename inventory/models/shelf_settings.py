from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

# Latex is best within about a year and a half, kept cool and dark: from memory.
LATEX_BEST_MONTHS = 18


class ShelfSettings(models.Model):
    """What the owner may set about her shelf. There is one row at most; without it, the usual."""

    THE_ONE = 1

    latex_best_months = models.PositiveSmallIntegerField(
        default=LATEX_BEST_MONTHS, validators=[MinValueValidator(1), MaxValueValidator(120)]
    )

    class Meta:
        verbose_name_plural = "shelf settings"
        constraints = [
            models.CheckConstraint(condition=models.Q(id=1), name="there_is_one_shelf"),
            models.CheckConstraint(
                condition=models.Q(latex_best_months__gte=1), name="latex_is_good_for_a_while"
            ),
        ]

    def __str__(self) -> str:
        return "Shelf settings"
