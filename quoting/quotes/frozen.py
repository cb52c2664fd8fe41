"""What an edition keeps: everything that went into it and everything that came out, as JSON."""

from datetime import date
from typing import Any

from decor.models import Business
from quoting.estimator import Estimate, catalogue_to_dict, estimate_to_dict, rates_to_dict
from quoting.pieces.words import palette_of, piece_in_words
from quoting.quotes.choices import Choice, Option, choices_of
from quoting.quotes.combinations import Combination, combinations_of
from quoting.quotes.offer import as_stored, offer_of
from quoting.quotes.payments import PaymentPlan
from quoting.quotes.pricing import PricedQuote
from quoting.quotes.traced import photo_hashes

VERSION = 1


def inputs_of(priced: PricedQuote, *, business: Business) -> dict[str, Any]:
    """Every piece and variant must have an estimate."""
    offer, units = offer_of(priced.quote), business.units
    return as_stored(
        {
            "version": VERSION,
            "offer": offer,
            "business": _business(business),
            "in_words": [_in_words(piece.estimate, priced, units) for piece in priced.pieces],
            "variants_in_words": {
                piece.piece.pk: _in_words(piece.estimate, priced, units)
                for piece in priced.variants
            },
            "photos": photo_hashes(offer),
            "lead_days": priced.conditions.lead_days,
            "rates": rates_to_dict(priced.rates),
            "catalogue": catalogue_to_dict(priced.catalogue),
        }
    )


def result_of(priced: PricedQuote, *, today: date) -> dict[str, Any]:
    price = priced.price
    return as_stored(
        {
            "version": VERSION,
            "estimates": [estimate_to_dict(piece.estimate) for piece in priced.pieces],
            "shares_cents": [piece.share_cents for piece in priced.pieces],
            "remainder_cents": priced.remainder_cents,
            "discount_cents": priced.discount_cents,
            "price": {
                "currency": price.currency,
                "cost_cents": price.cost_cents,
                "margin_bp": price.margin_bp,
                "net_cents": price.net_cents,
                "tax_cents": price.tax_cents,
                "total_cents": price.total_cents,
                "lines": [vars(line) for line in price.lines],
            },
            "payment": _payment(priced.plan),
            "variants": [
                _option(option, choice)
                for choice in choices_of(priced)
                for option in choice.options
            ],
            "combinations": [_combination(one) for one in combinations_of(priced, today=today)],
        }
    )


def _option(option: Option, choice: Choice) -> dict[str, Any]:
    """One variant, those that count among them: the whole quote's price with it."""
    piece, price = option.piece, option.price
    estimate = {} if piece.counts else {"estimate": estimate_to_dict(option.estimate)}
    return {
        "id": piece.pk,
        "choice": choice.number,
        "variant": piece.variant_name,
        "title": piece.title,
        "counts": piece.counts,
        "share_cents": option.share_cents,
        "net_cents": price.net_cents,
        "tax_cents": price.tax_cents,
        "total_cents": price.total_cents,
        "more_cents": option.more_cents,
        "payment": _payment(option.plan),
        **estimate,
    }


def _combination(combination: Combination) -> dict[str, Any]:
    return {
        "chosen": combination.chosen,
        "cost_cents": combination.cost_cents,
        "net_cents": combination.net_cents,
        "tax_cents": combination.tax_cents,
        "total_cents": combination.total_cents,
        "payment": _payment(combination.plan),
    }


def _payment(plan: PaymentPlan) -> dict[str, Any]:
    return {
        "deposit_cents": plan.deposit_cents,
        "balance_cents": plan.balance_cents,
        "balance_on": _day(plan.balance_on),
    }


def _business(business: Business) -> dict[str, Any]:
    names = ("name", "owner_name", "strapline", "email", "phone", "address")
    chosen = ("units", "currency", "timezone", "paper", "how_to_accept")
    kept = {name: getattr(business, name) for name in (*names, *chosen)}
    logo = business.logo
    is_there = bool(logo) and logo.storage.exists(logo.name)
    return {**kept, "logo": logo.name if is_there else ""}


def _in_words(estimate: Estimate, priced: PricedQuote, units: str) -> dict[str, Any]:
    swatches = palette_of(estimate.spec, priced.catalogue)
    return {
        "words": piece_in_words(estimate.spec, units=units, catalogue=priced.catalogue),
        "palette": [{"name": swatch.name, "hex": swatch.hex} for swatch in swatches],
    }


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None
