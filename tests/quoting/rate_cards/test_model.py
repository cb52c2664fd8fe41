import pytest
from django.core.exceptions import ValidationError
from django.db import transaction

from decor.models.append_only import WrittenOnce
from quoting.estimator import example_rates, rates_to_dict
from quoting.models import RateCard
from tests.factories import RateCardFactory
from tests.quoting.rate_cards.cards import TODAY

pytestmark = pytest.mark.django_db
WAYS = {
    "save": lambda card: card.save(),
    "save of one field": lambda card: card.save(update_fields=["terms"]),
    "delete": lambda card: card.delete(),
    "update of many": lambda card: RateCard.objects.update(terms=""),
    "update of one": lambda card: RateCard.objects.filter(pk=card.pk).update(terms=""),
    "bulk update": lambda card: RateCard.objects.bulk_update([card], ["terms"]),
    "delete of many": lambda card: RateCard.objects.all().delete(),
    "update or create": lambda card: RateCard.objects.update_or_create(
        version=card.version, defaults={"terms": ""}
    ),
    "delete by another door": lambda card: RateCard._base_manager.get(pk=card.pk).delete(),
}


@pytest.mark.parametrize("way", WAYS)
def test_a_version_is_never_changed_nor_removed(way):
    card = RateCardFactory()
    terms = card.terms
    card.terms = "Other terms"
    with pytest.raises(WrittenOnce), transaction.atomic():
        WAYS[way](card)
    assert RateCard.objects.get().terms == terms


@pytest.mark.parametrize(
    "wrong",
    [
        {"margin_bp": 10_000},
        {"labour_cents_per_hour": -1},
        {"wind_limit_mps": float("nan")},
        {"unheard_of": 1},
        {"unit_times": {"mini_s": "long"}},
    ],
)
def test_rates_that_the_estimator_refuses_are_no_card(wrong):
    card = RateCard(version=1, starts_on=TODAY, rates={**rates_to_dict(example_rates()), **wrong})
    with pytest.raises(ValidationError) as refused:
        card.full_clean()
    assert set(refused.value.message_dict) == {"rates"}


def test_a_card_gives_back_the_rates_it_was_made_of():
    assert RateCardFactory().as_rates() == example_rates()
