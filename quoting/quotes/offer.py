"""What the owner decided for this client, as plain data that can be kept and compared."""

import json
from datetime import date
from typing import Any

from decor.display import percent_text
from decor.models import Client, Job, Site
from quoting.models import ExtraLine, Piece, Quote
from quoting.models.quote import DiscountKind
from quoting.pictures.drawing import FIGURES, FIRST_FIGURE
from quoting.quotes.traced import fetch_traces, traced_offer


def offer_of(quote: Quote) -> dict[str, Any]:
    """`pieces` are those that count; `variants`, where there are any, what stands beside them."""
    job = quote.job
    every = list(quote.pieces.all())
    fetch_traces(every)
    variants = [_piece(piece) for piece in every if not piece.counts]
    return as_stored(
        {
            "number": quote.number,
            "client": _client(job.client),
            "job": _job(job),
            "site": _site(job.site) if job.site else None,
            "pieces": [_piece(piece) for piece in every if piece.counts],
            **({"variants": variants} if variants else {}),
            "extra_lines": [_extra_line(line) for line in quote.extra_lines.all()],
            "discount": {
                "kind": quote.discount_kind,
                "bp": quote.discount_bp,
                "cents": quote.discount_cents,
                "label": discount_label(quote),
            },
            "is_outside_hours": quote.is_outside_hours,
            "includes_strike": quote.includes_strike,
            "message": quote.message,
            "terms": quote.terms,
            "expires_on": _day(quote.expires_on),
            "rate_card": quote.rate_card.version,
        }
    )


def discount_label(quote: Quote) -> str:
    """As the client reads it; empty where there is none."""
    name = quote.discount_reason or "Discount"
    match quote.discount_kind:
        case DiscountKind.PERCENT:
            return f"{name} ({percent_text(quote.discount_bp)})"
        case DiscountKind.AMOUNT:
            return name
    return ""


def line_cents(line: ExtraLine) -> int:
    return line.quantity * line.unit_cents


def as_stored(value: dict[str, Any]) -> dict[str, Any]:
    """As it comes back from the database, so that kept and new compare alike."""
    return json.loads(json.dumps(value))


def _client(client: Client) -> dict[str, Any]:
    return {"name": client.name, "email": client.email, "phone": client.phone}


def _job(job: Job) -> dict[str, Any]:
    return {
        "title": job.title,
        "event_on": _day(job.event_on),
        "event_time": job.event_time.isoformat("minutes") if job.event_time else None,
    }


def _site(site: Site) -> dict[str, Any]:
    names = ("name", "address", "is_outdoor", "distance_m", "drive_minutes")
    return {name: getattr(site, name) for name in names}


def _piece(piece: Piece) -> dict[str, Any]:
    """Only what there is: editions from before variants, photos and figures have none."""
    offered = {"id": piece.pk, "title": piece.title, "spec": piece.spec}
    if piece.choice is not None:
        offered |= {"choice": piece.choice, "variant": piece.variant_name}
    if traced := traced_offer(piece):
        offered |= {"traced": traced}
    figure = piece.typed.get("figure")
    if figure in FIGURES and figure != FIRST_FIGURE:
        offered |= {"figure": figure}
    return offered


def _extra_line(line: ExtraLine) -> dict[str, Any]:
    return {
        "id": line.pk,
        "label": line.label,
        "quantity": line.quantity,
        "unit_cents": line.unit_cents,
        "amount_cents": line_cents(line),
    }


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None
