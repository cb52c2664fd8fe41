"""A garland spec becomes balloons, hours and a price. Pure Python; knows nothing of Django."""

from .catalogue import Catalogue, CatalogueItem, SundryItem, catalogue_from_dict, catalogue_to_dict
from .estimating import Estimate, estimate
from .examples import example_catalogue
from .orders import Discount, ExtraLine, OrderConditions
from .pricing import Price, PriceLine, price_order, share_net_among
from .problems import BadInput, CatalogueError, Problem, RatesError, SpecError
from .rates import (
    PHASES,
    Rates,
    RushTier,
    UnitTimes,
    example_rates,
    rates_from_dict,
    rates_to_dict,
)
from .result_file import estimate_to_dict
from .sharing import webster
from .spec import Spec
from .spec_file import SPEC_SCHEMA, spec_from_dict, spec_to_dict

__all__ = [
    "PHASES",
    "SPEC_SCHEMA",
    "BadInput",
    "Catalogue",
    "CatalogueError",
    "CatalogueItem",
    "Discount",
    "Estimate",
    "ExtraLine",
    "OrderConditions",
    "Price",
    "PriceLine",
    "Problem",
    "Rates",
    "RatesError",
    "RushTier",
    "Spec",
    "SpecError",
    "SundryItem",
    "UnitTimes",
    "catalogue_from_dict",
    "catalogue_to_dict",
    "estimate",
    "estimate_to_dict",
    "example_catalogue",
    "example_rates",
    "price_order",
    "rates_from_dict",
    "rates_to_dict",
    "share_net_among",
    "spec_from_dict",
    "spec_to_dict",
    "webster",
]
