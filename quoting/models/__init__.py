from quoting.models.client_page import ClientAnswer, ClientLink, ClientQuestion
from quoting.models.edition import Edition
from quoting.models.installing import CheckMark, VisitForecast, VisitMaterial, WorkReceipt
from quoting.models.look_back import LookBack
from quoting.models.making import PackedBag, Popped, Tick, WorkTime
from quoting.models.piece import Piece
from quoting.models.quote import ExtraLine, Quote
from quoting.models.rate_card import RateCard
from quoting.models.traced_photo import TracedPhoto

__all__ = [
    "CheckMark",
    "ClientAnswer",
    "ClientLink",
    "ClientQuestion",
    "Edition",
    "ExtraLine",
    "LookBack",
    "PackedBag",
    "Piece",
    "Popped",
    "Quote",
    "RateCard",
    "Tick",
    "TracedPhoto",
    "VisitForecast",
    "VisitMaterial",
    "WorkReceipt",
    "WorkTime",
]
