"""The one business and what it has chosen."""

from django.db import transaction

from decor.models import Business
from decor.pictures import Picture


def the_business() -> Business | None:
    """The business, or None before the first run's questions have been answered."""
    return Business.objects.filter(pk=Business.THE_ONE).first()


@transaction.atomic
def business_logo_set(*, picture: Picture | None) -> None:
    """The new logo, or none. The old file goes after the change is surely kept."""
    business = Business.objects.get(pk=Business.THE_ONE)
    storage, old = business.logo.storage, business.logo.name
    if picture:
        file = picture.as_file()
        business.logo.save(file.name, file, save=False)
    else:
        business.logo = ""
    business.save(update_fields=["logo"])
    if old:
        transaction.on_commit(lambda: storage.delete(old))
