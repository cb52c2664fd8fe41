"""Makes the demo business. What is there already is left alone, so it can be run again."""

from datetime import date, datetime, timedelta
from pathlib import Path

from django.contrib.auth import get_user_model
from django.contrib.auth.models import User
from django.db import connection
from django.utils import timezone

from decor.business.service import the_business
from decor.jobs.photos import photos_add
from decor.jobs.service import Enquiry, enquiry_take
from decor.jobs.stages import ENDED_EARLY, job_move
from decor.models import Business, Client, Job, Site
from decor.models.job import Stage
from inventory.catalogue.starter import add_starter_catalogue
from quoting.demo.arbour_photo import arbour_marks, arbour_photo
from quoting.demo.conflict import CONFLICT_JOBS, scarce_stock
from quoting.demo.life import crew_make, job_promise, job_work
from quoting.demo.scenario import BUSINESS, HELPER, JOBS, OWNER, SAMPLE_QUOTE_OF, DemoJob
from quoting.demo.shelf import shelf_stock, shelf_use
from quoting.estimator import example_rates
from quoting.models import Edition, Quote, RateCard
from quoting.pieces.service import piece_add, piece_type
from quoting.pieces.surroundings import surroundings_of
from quoting.pieces.variants import variant_add
from quoting.quotes.extra_lines import extra_line_add
from quoting.quotes.service import quote_send, quote_start
from quoting.rate_cards.service import rate_card_change
from quoting.rate_cards.terms import DEFAULT_TERMS
from quoting.traces.service import trace_keep

NOT_A_DEMO = (
    "This database is not a demo's: it was left as it is. "
    "Unset DATABASE_URL, or name a new database."
)


class NotADemo(Exception):
    """The database belongs to a real business, or to something else altogether."""


def refuse_other_databases() -> None:
    """Before anything is migrated: only an empty database or an earlier demo may be written."""
    tables = set(connection.introspection.table_names())
    if not tables:
        return
    if Business._meta.db_table not in tables or not _is_demo():
        raise NotADemo(NOT_A_DEMO)


def _is_demo() -> bool:
    with connection.cursor() as cursor:
        cursor.execute("SELECT is_demo FROM decor_business")
        return any(row[0] for row in cursor.fetchall())


def demo_make(*, password: str, now: datetime) -> User:
    """The owner of a demo business with all its jobs; `now` is when its days are counted from."""
    if the_business() is None:
        Business.objects.create(pk=Business.THE_ONE, is_demo=True, **BUSINESS)
    owner = _user(OWNER, password)
    add_starter_catalogue()
    shelf_stock(owner=owner, now=now)
    scarce_stock(owner=owner, now=now)
    if not RateCard.objects.exists():
        rate_card_change(
            rates=example_rates(),
            terms=DEFAULT_TERMS,
            starts_on=(now - timedelta(days=365)).date(),
            note="To begin with",
            by=owner,
        )
    crew_make(owner, _user(HELPER, password))
    every = (*JOBS, *CONFLICT_JOBS)
    for demo in every:
        if not Job.objects.filter(title=demo.title).exists():
            _job_make(demo, owner=owner, now=now)
    shelf_use(owner=owner, now=now)
    for demo in every:
        job = Job.objects.filter(title=demo.title, stage=Stage.PROMISED).first()
        if job is not None:
            job_work(job, demo, owner=owner, now=now)
    return owner


def sample_quote_write(folder: Path) -> Path:
    """Writes the sample quote's PDF, as it was sent, and says where."""
    edition = Edition.objects.filter(quote__job__title=SAMPLE_QUOTE_OF).latest("number")
    file = folder / f"quote-{edition.quote.number}.pdf"
    file.write_bytes(edition.pdf)
    return file


def _user(named: tuple[str, str, str], password: str) -> User:
    username, first_name, last_name = named
    user, is_new = get_user_model().objects.get_or_create(
        username=username, defaults={"first_name": first_name, "last_name": last_name}
    )
    if is_new:
        user.set_password(password)
        user.save()
    return user


def _job_make(demo: DemoJob, *, owner: User, now: datetime) -> None:
    asked_at = now - timedelta(days=demo.asked_days_ago)
    job = enquiry_take(enquiry=_enquiry(demo, now), by=owner, now=asked_at)
    Job.objects.filter(pk=job.pk).update(created_at=asked_at)
    _place_describe(job.site, demo)
    if demo.has_photo:
        photos_add(job=job, pictures=[arbour_photo()])
    if not demo.pieces:
        return
    quote = _quote_draft(job, demo, today=timezone.localdate(asked_at))
    if demo.stage == Stage.ASKED:
        return
    quoted_at = asked_at + timedelta(hours=5)
    quote_send(quote=quote, by=owner, now=quoted_at)
    job.refresh_from_db()
    if demo.stage in ENDED_EARLY:
        job_move(job=job, to=demo.stage, by=owner, reason=demo.why_ended, now=now)
    elif demo.stage != Stage.QUOTED:
        job_promise(quote, demo, owner=owner, quoted_at=quoted_at + timedelta(days=1))


def _quote_draft(job: Job, demo: DemoJob, *, today: date) -> Quote:
    quote = quote_start(job=job, today=today)
    surroundings = surroundings_of(quote, business=the_business(), today=today)
    for piece in demo.pieces:
        started = piece_add(quote=quote, title=piece.title)
        typed = {"title": piece.title, **piece.typed}
        result = piece_type(piece=started, typed=typed, surroundings=surroundings)
        if piece.other is not None:
            variant = variant_add(piece=result.piece)
            typed |= piece.other
            piece_type(piece=variant, typed=typed, surroundings=surroundings)
        if piece.is_traced:
            trace_keep(
                piece=result.piece,
                photo=job.photos.get(),
                typed=arbour_marks(),
                surroundings=surroundings,
                now=timezone.now(),
            )
    for extra in demo.extras:
        extra_line_add(
            quote=quote, label=extra.label, quantity=extra.quantity, unit_cents=extra.unit_cents
        )
    quote.message = demo.message
    quote.save(update_fields=["message"])
    return quote


def _enquiry(demo: DemoJob, now: datetime) -> Enquiry:
    return Enquiry(
        name=demo.client.name,
        contact=demo.client.contact,
        client=Client.objects.filter(name=demo.client.name).first(),
        title=demo.title,
        event_on=(now + timedelta(days=demo.in_days)).date(),
        event_time=demo.at,
        place=demo.place.name,
        is_outdoor=demo.place.is_outdoor,
        note=demo.note,
    )


def _place_describe(site: Site, demo: DemoJob) -> None:
    site.address = demo.place.address
    site.access_note = demo.place.access_note
    site.distance_m = demo.place.distance_m
    site.drive_minutes = demo.place.drive_minutes
    site.save()
