"""Photos of a job: read, kept in a tray while the enquiry is still being typed, added, removed."""

import re
import secrets
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.db.models import QuerySet

from decor.models import Job, JobPhoto
from decor.pictures import Picture, PictureRefused, photo_read

LONGEST_PX = 2000
MAX_AT_ONCE = 10
TRAY_LIFE = timedelta(days=2)

TOO_MANY = "Ten photos at a time, please: the first ten were taken."


@dataclass(frozen=True)
class PhotosRead:
    pictures: tuple[Picture, ...]
    problems: tuple[str, ...]


def photos_read(uploads: Iterable[UploadedFile]) -> PhotosRead:
    """The good ones are kept whatever is wrong with the others."""
    uploads = list(uploads)
    pictures, problems = [], []
    for upload in uploads[:MAX_AT_ONCE]:
        try:
            pictures.append(photo_read(upload, longest_px=LONGEST_PX))
        except PictureRefused as refused:
            problems.append(str(refused))
    if len(uploads) > MAX_AT_ONCE:
        problems.append(TOO_MANY)
    return PhotosRead(tuple(pictures), tuple(problems))


def photos_add(*, job: Job, pictures: Iterable[Picture]) -> list[JobPhoto]:
    return [JobPhoto.objects.create(job=job, **_image_of(picture)) for picture in pictures]


def tray_new() -> str:
    return secrets.token_hex(16)


def is_tray(name: str) -> bool:
    return re.fullmatch(r"[0-9a-f]{32}", name) is not None


def tray_fill(*, tray: str, pictures: Iterable[Picture]) -> None:
    for picture in pictures:
        JobPhoto.objects.create(tray=tray, **_image_of(picture))


def tray_photos(tray: str) -> QuerySet[JobPhoto]:
    return JobPhoto.objects.filter(tray=tray, job=None) if tray else JobPhoto.objects.none()


def tray_empty_into(*, job: Job, tray: str) -> None:
    tray_photos(tray).update(job=job, tray="")


def trays_forget(*, now: datetime) -> None:
    """Removes what was never taken up: an enquiry begun and left for days."""
    for photo in JobPhoto.objects.filter(job=None, added_at__lt=now - TRAY_LIFE):
        photo_remove(photo)


@transaction.atomic
def photo_remove(photo: JobPhoto) -> None:
    """The file goes after the row is surely gone."""
    storage, name = photo.image.storage, photo.image.name
    photo.delete()
    transaction.on_commit(lambda: storage.delete(name))


def _image_of(picture: Picture) -> dict[str, object]:
    return {
        "image": picture.as_file(),
        "width_px": picture.width_px,
        "height_px": picture.height_px,
    }
