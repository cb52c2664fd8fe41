"""What an edition keeps: everything that went into it and everything that came out, as JSON."""

from datetime import date
from typing import Any

from decor.models import Business
from quoting.estimator import catalogue_to_dict, estimate_to_dict, rates_to_dict
from quoting.pieces.words import palette_of, piece_in_words
from quoting.quotes.offer import as_stored, offer_of
from quoting.quotes.pricing import PricedPiece, PricedQuote

VERSION = 1


def inputs_of(priced: PricedQuote, *, business: Business) -> dict[str, Any]:
    """Every piece must have an estimate."""
    return as_stored(
        {
            "version": VERSION,
            "offer": offer_of(priced.quote),
            "business": _business(business),
            "in_words": [_in_words(piece, priced, business.units) for piece in priced.pieces],
            "lead_days": priced.conditions.lead_days,
            "rates": rates_to_dict(priced.rates),
            "catalogue": catalogue_to_dict(priced.catalogue),
        }
    )


def result_of(priced: PricedQuote) -> dict[str, Any]:
    price, plan = priced.price, priced.plan
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
            "payment": {
                "deposit_cents": plan.deposit_cents,
                "balance_cents": plan.balance_cents,
                "balance_on": _day(plan.balance_on),
            },
        }
    )


def _business(business: Business) -> dict[str, Any]:
    names = ("name", "owner_name", "strapline", "email", "phone", "address")
    chosen = ("units", "currency", "timezone", "paper", "how_to_accept")
    kept = {name: getattr(business, name) for name in (*names, *chosen)}
    logo = business.logo
    is_there = bool(logo) and logo.storage.exists(logo.name)
    return {**kept, "logo": logo.name if is_there else ""}


def _in_words(piece: PricedPiece, priced: PricedQuote, units: str) -> dict[str, Any]:
    spec = piece.estimate.spec
    swatches = palette_of(spec, priced.catalogue)
    return {
        "words": piece_in_words(spec, units=units, catalogue=priced.catalogue),
        "palette": [{"name": swatch.name, "hex": swatch.hex} for swatch in swatches],
    }


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None
