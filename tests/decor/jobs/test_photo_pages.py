from io import BytesIO

import pytest
from django.urls import reverse
from PIL import Image

from decor.jobs.forms import NO_PHOTO_CHOSEN
from decor.jobs.photos import photos_add, photos_read, tray_fill, tray_new
from decor.models import JobPhoto
from tests.decor.pictures import bytes_named, image_file
from tests.factories import JobFactory


@pytest.fixture
def photo(db) -> JobPhoto:
    photos_add(job=JobFactory(), pictures=photos_read([image_file()]).pictures)
    return JobPhoto.objects.get()


def test_several_photos_are_added_at_once(owner_client):
    job = JobFactory()
    reply = owner_client.post(
        reverse("job_photo_add", args=[job.pk]), {"photos": [image_file(), image_file("b.jpg")]}
    )
    assert reply.url == reverse("job_detail", args=[job.pk])
    assert job.photos.count() == 2


def test_the_good_ones_are_added_and_the_others_named(owner_client):
    job = JobFactory()
    reply = owner_client.post(
        reverse("job_photo_add", args=[job.pk]),
        {"photos": [image_file(), bytes_named("notes.jpg", b"no picture")]},
    )
    assert reply.status_code == 422
    assert "“notes.jpg” is not a picture" in reply.context["photos_form"].errors["photos"][0]
    assert job.photos.count() == 1
    assert reverse("photo", args=[job.photos.get().pk]) in reply.text


def test_choosing_nothing_is_said(owner_client):
    job = JobFactory()
    reply = owner_client.post(reverse("job_photo_add", args=[job.pk]), {})
    assert reply.context["photos_form"].errors["photos"] == [NO_PHOTO_CHOSEN]


def test_a_photo_is_sent_as_nothing_but_a_picture(owner_client, photo):
    reply = owner_client.get(reverse("photo", args=[photo.pk]))
    assert reply["Content-Type"] == "image/jpeg"
    assert reply["X-Content-Type-Options"] == "nosniff"
    assert reply["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert "private" in reply["Cache-Control"]
    assert b"".join(reply.streaming_content).startswith(b"\xff\xd8\xff")


def test_a_photo_needs_the_owner(client, business, photo):
    reply = client.get(reverse("photo", args=[photo.pk]))
    assert reply.url.startswith(reverse("login"))


def test_a_photo_whose_file_is_gone_is_not_found(owner_client, photo):
    photo.image.storage.delete(photo.image.name)
    assert owner_client.get(reverse("photo", args=[photo.pk])).status_code == 404


def test_a_list_of_photos_is_sent_small(owner_client, photo):
    Image.new("RGB", (2000, 1500)).save(photo.image.path, "JPEG")
    reply = owner_client.get(reverse("photo_small", args=[photo.pk]))
    assert (reply["Content-Type"], reply["X-Content-Type-Options"]) == ("image/jpeg", "nosniff")
    assert reply["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert Image.open(BytesIO(reply.content)).size == (480, 360)
    page = owner_client.get(reverse("job_detail", args=[photo.job_id])).text
    assert f'<img src="{reverse("photo_small", args=[photo.pk])}"' in page


def test_a_small_photo_whose_file_is_gone_is_not_found(owner_client, photo):
    photo.image.storage.delete(photo.image.name)
    assert owner_client.get(reverse("photo_small", args=[photo.pk])).status_code == 404


def test_removing_asks_first(owner_client, photo):
    address = reverse("photo_remove", args=[photo.pk])
    assert "Remove this photo?" in owner_client.get(address).text
    assert JobPhoto.objects.exists()
    assert owner_client.post(address).url == reverse("job_detail", args=[photo.job_id])
    assert not JobPhoto.objects.exists()


def test_a_photo_removed_already_is_not_found(owner_client, photo):
    address = reverse("photo_remove", args=[photo.pk])
    owner_client.post(address)
    assert owner_client.post(address).status_code == 404


def test_a_photo_in_a_tray_has_no_job_to_go_back_to(owner_client):
    tray_fill(tray=tray_new(), pictures=photos_read([image_file()]).pictures)
    address = reverse("photo_remove", args=[JobPhoto.objects.get().pk])
    assert owner_client.get(address).status_code == 404
