from datetime import UTC, datetime, timedelta

import pytest
from django.db import IntegrityError, transaction

from decor.jobs.photos import (
    MAX_AT_ONCE,
    TOO_MANY,
    TRAY_LIFE,
    is_tray,
    photo_remove,
    photos_add,
    photos_read,
    tray_fill,
    tray_new,
    tray_photos,
    trays_forget,
)
from decor.models import JobPhoto
from tests.decor.pictures import bytes_named, image_file
from tests.factories import JobFactory

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 6, 13, 15, 0, tzinfo=UTC)


def test_the_good_photos_are_kept_whatever_is_wrong_with_the_others():
    read = photos_read([image_file("a.jpg"), bytes_named("b.jpg", b"no"), image_file("c.jpg")])
    assert len(read.pictures) == 2
    assert [problem.split()[0] for problem in read.problems] == ["“b.jpg”"]


def test_more_than_ten_at_once_are_cut_with_a_word():
    read = photos_read(image_file() for _ in range(MAX_AT_ONCE + 1))
    assert (len(read.pictures), read.problems) == (10, (TOO_MANY,))


def test_a_removed_photo_leaves_no_file(django_capture_on_commit_callbacks):
    photos_add(job=JobFactory(), pictures=photos_read([image_file()]).pictures)
    photo = JobPhoto.objects.get()
    storage, name = photo.image.storage, photo.image.name
    assert storage.exists(name)
    with django_capture_on_commit_callbacks(execute=True):
        photo_remove(photo)
    assert not JobPhoto.objects.exists()
    assert not storage.exists(name)


def test_a_tray_is_forgotten_after_some_days_and_a_job_s_photo_never():
    pictures = photos_read([image_file()]).pictures
    photos_add(job=JobFactory(), pictures=pictures)
    old, new = tray_new(), tray_new()
    tray_fill(tray=old, pictures=pictures)
    tray_fill(tray=new, pictures=pictures)
    JobPhoto.objects.exclude(tray=new).update(added_at=NOW - TRAY_LIFE - timedelta(minutes=1))
    JobPhoto.objects.filter(tray=new).update(added_at=NOW)
    trays_forget(now=NOW)
    assert (tray_photos(old).count(), tray_photos(new).count()) == (0, 1)
    assert JobPhoto.objects.filter(job__isnull=False).count() == 1


def test_no_tray_holds_nothing():
    assert not tray_photos("").exists()


@pytest.mark.parametrize("name", ["", "x" * 32, "../../x", "0" * 31, "0" * 33])
def test_only_our_own_tokens_name_a_tray(name):
    assert is_tray(tray_new())
    assert not is_tray(name)


@pytest.mark.parametrize("place", [{}, {"tray": "0" * 32, "at_job": True}])
def test_the_database_refuses_a_photo_in_no_place_or_in_two(place):
    job = JobFactory() if place.pop("at_job", False) else None
    with pytest.raises(IntegrityError), transaction.atomic():
        JobPhoto.objects.create(job=job, image="a.jpg", width_px=1, height_px=1, **place)
