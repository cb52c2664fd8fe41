import pytest
from django.contrib.auth.models import User
from django.test import Client as Browser

from decor.models import CrewMember
from decor.models.crew import Role


@pytest.fixture
def tomas(db: None) -> CrewMember:
    """A helper who has set his own password."""
    user = User.objects.create_user("tomas", password="oat-fern-copper")
    return CrewMember.objects.create(name="Tomas", role=Role.HELPER, user=user)


@pytest.fixture
def helpers_browser(business: object, tomas: CrewMember) -> Browser:
    browser = Browser()
    browser.force_login(tomas.user)
    return browser
