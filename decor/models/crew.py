from django.conf import settings
from django.db import models


class Role(models.TextChoices):
    OWNER = "owner", "Owner"
    HELPER = "helper", "Helper"


class CrewMember(models.Model):
    """Someone who works: how long in a day they give to making and to installing.

    A helper's login, where there is one, sees work and never money.
    """

    name = models.CharField(max_length=80)
    role = models.CharField(max_length=10, choices=Role, default=Role.HELPER)
    user = models.OneToOneField(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="crew_member",
    )
    # The owner has seen it: whoever logs in with it sets their own before all else.
    password_is_given = models.BooleanField(default=False, editable=False)
    phone = models.CharField(max_length=40, blank=True)
    making_minutes_a_day = models.PositiveSmallIntegerField(default=360)
    install_minutes_a_day = models.PositiveSmallIntegerField(default=600)
    # Seven letters, Monday first: 1 works, 0 does not.
    week = models.CharField(max_length=7, default="1111111")
    archived_at = models.DateTimeField(null=True, blank=True, editable=False)

    class Meta:
        ordering = ["-role", "name", "pk"]
        constraints = [
            models.CheckConstraint(condition=~models.Q(name=""), name="crew_member_has_a_name"),
            models.CheckConstraint(
                condition=models.Q(role__in=Role.values), name="crew_role_is_known"
            ),
            models.CheckConstraint(
                condition=models.Q(making_minutes_a_day__lte=1440, install_minutes_a_day__lte=1440),
                name="crew_day_has_24_hours",
            ),
        ]

    def __str__(self) -> str:
        return self.name
