"""Makers of test rows: fixed values, and parts that belong together by default."""

from datetime import date, time

import factory
from django.contrib.auth import get_user_model

from decor.models import Business, Client, Job, Site


class UserFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = get_user_model()
        django_get_or_create = ("username",)

    username = "nell"
    first_name = "Nell"
    last_name = "Okafor-Hart"
    password = factory.django.Password("six-oat-balloons")


class BusinessFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Business
        django_get_or_create = ("pk",)

    pk = Business.THE_ONE
    name = "Larkspur Lane Garlands"
    owner_name = "Nell Okafor-Hart"
    email = "nell@larkspurlane.example"
    phone = "(207) 555-0101"
    timezone = "America/New_York"


class ClientFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Client

    name = "Wexcombe Bay Library"
    email = "reading@wexcombebay.example"
    phone = "(207) 555-0142"


class SiteFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Site

    client = factory.SubFactory(ClientFactory)
    name = "Library porch"
    address = "2 Harbour Street, Wexcombe Bay"


class JobFactory(factory.django.DjangoModelFactory):
    """A job whose place is its client's, a week after the `today` of the tests."""

    class Meta:
        model = Job

    client = factory.SubFactory(ClientFactory)
    site = factory.SubFactory(SiteFactory, client=factory.SelfAttribute("..client"))
    title = "Reading-week arch"
    event_on = date(2026, 6, 20)
    event_time = time(14, 0)
