import pytest

from decor.jobs.stages import SAY_WHY
from decor.models import Job
from decor.models.job import Stage
from decor.payments.account import account_of
from quoting.calling_off.forms import NOT_THEN
from quoting.calling_off.service import MORE_THAN_AGREED, ONLY_PROMISED, OTHERWISE_THAN_SHOWN
from tests.quoting.calling_off.conftest import NOW, TODAY
from tests.quoting.calling_off.test_calling_off import KEPT, take

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def frozen(time_machine):
    time_machine.move_to(NOW, tick=False)


def page_of(job: Job) -> str:
    return f"/jobs/{job.pk}/call-off/"


def pressed(**changes: str) -> dict[str, str]:
    return {"who": "client", "why": "Rain", "shown_kept": str(KEPT), "shown_paid": "0"} | changes


def test_the_sums_are_shown_before_anything_is_called_off(owner_client, job):
    shown = owner_client.get(page_of(job)).text
    assert "75 % of $587.55" in shown and "$440.66" in shown
    assert "If you call it off" in shown
    assert Job.objects.get(pk=job.pk).stage == Stage.PROMISED


def test_it_is_called_off_once_and_the_second_press_is_told(owner_client, job):
    reply = owner_client.post(page_of(job), pressed(), follow=True)
    assert "is called off" in reply.text and "Called off by the client" in reply.text
    assert ONLY_PROMISED in owner_client.post(page_of(job), pressed(), follow=True).text


def test_what_changed_in_the_meantime_is_shown_anew_and_nothing_typed_is_lost(owner_client, job):
    take(job, 293_78)
    reply = owner_client.post(page_of(job), pressed(why="A flood in the hall"))
    assert reply.status_code == 422
    assert OTHERWISE_THAN_SHOWN in reply.text and "A flood in the hall" in reply.text
    assert 'name="shown_paid" value="29378"' in reply.text
    assert Job.objects.get(pk=job.pk).stage == Stage.PROMISED


@pytest.mark.parametrize(
    ("change", "field", "message"),
    [
        ({"why": " "}, "why", SAY_WHY),
        ({"why": "x" * 201}, "why", "at most 200"),
        ({"who": "nobody"}, "who", "valid choice"),
        ({"keep": "587.56"}, "keep", MORE_THAN_AGREED),
        ({"keep": "-1"}, "keep", "Between $0.00"),
        ({"keep": "10", "who": "us"}, "keep", NOT_THEN),
    ],
)
def test_what_is_wrong_is_said_beside_its_field(owner_client, job, change, field, message):
    reply = owner_client.post(page_of(job), pressed(**change))
    assert reply.status_code == 422
    assert message in reply.context["form"].errors[field][0]
    assert Job.objects.get(pk=job.pk).stage == Stage.PROMISED


def test_another_amount_can_be_kept_by_agreement(owner_client, job):
    owner_client.post(page_of(job), pressed(keep="50"))
    assert account_of(job, today=TODAY).owed_cents == 50_00


def test_a_job_that_is_not_promised_has_no_such_page(owner_client, job):
    Job.objects.filter(pk=job.pk).update(stage=Stage.QUOTED)
    assert ONLY_PROMISED in owner_client.get(page_of(job), follow=True).text


def test_the_job_leads_there_and_cannot_be_called_off_past_the_sums(owner_client, job):
    shown = owner_client.get(f"/jobs/{job.pk}/").text
    assert page_of(job) in shown and '<option value="called_off"' not in shown
    reply = owner_client.post(f"/jobs/{job.pk}/move/", {"to": "called_off", "reason": "Rain"})
    assert reply.status_code == 422
