from decor.models.business import Business
from decor.models.calendar_feed import CalendarFeed
from decor.models.client import Client
from decor.models.crew import CrewMember
from decor.models.job import Job, JobPhoto, StageMove
from decor.models.letter import Letter, LetterText
from decor.models.payment import PaymentDue, PaymentLine
from decor.models.rate_count import RateCount
from decor.models.site import Site
from decor.models.visit import MakingSession, Visit

__all__ = [
    "Business",
    "CalendarFeed",
    "Client",
    "CrewMember",
    "Job",
    "JobPhoto",
    "Letter",
    "LetterText",
    "MakingSession",
    "PaymentDue",
    "PaymentLine",
    "RateCount",
    "Site",
    "StageMove",
    "Visit",
]
