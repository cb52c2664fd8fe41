from dataclasses import dataclass

from django.db import models

MICRO = 1_000_000


@dataclass(frozen=True)
class Coordinates:
    """Degrees, north and east above zero."""

    latitude: float
    longitude: float


class Located(models.Model):
    """Something on the map, for the Sun. Whole millionths of a degree, as no column is a float."""

    latitude_microdeg = models.IntegerField(null=True, blank=True, editable=False)
    longitude_microdeg = models.IntegerField(null=True, blank=True, editable=False)

    class Meta:
        abstract = True
        constraints = [
            models.CheckConstraint(
                condition=models.Q(latitude_microdeg=None, longitude_microdeg=None)
                | models.Q(
                    latitude_microdeg__isnull=False,
                    longitude_microdeg__isnull=False,
                    latitude_microdeg__range=(-90 * MICRO, 90 * MICRO),
                    longitude_microdeg__range=(-180 * MICRO, 180 * MICRO),
                ),
                name="%(class)s_is_on_the_map_or_not",
            ),
        ]

    @property
    def coordinates(self) -> Coordinates | None:
        if self.latitude_microdeg is None or self.longitude_microdeg is None:
            return None
        return Coordinates(self.latitude_microdeg / MICRO, self.longitude_microdeg / MICRO)

    @coordinates.setter
    def coordinates(self, value: Coordinates | None) -> None:
        self.latitude_microdeg = round(value.latitude * MICRO) if value else None
        self.longitude_microdeg = round(value.longitude * MICRO) if value else None
