from inventory.models.bag import Bag
from inventory.models.counting import CountedBag, Counting
from inventory.models.delivery import Delivery
from inventory.models.hold import Hold
from inventory.models.item import Colour, Item
from inventory.models.kit import Kit, KitHold
from inventory.models.ledger import LedgerLine
from inventory.models.need import Need
from inventory.models.order import Order, OrderLine
from inventory.models.shelf_settings import ShelfSettings
from inventory.models.supplier import Supplier, SupplierBag

__all__ = [
    "Bag",
    "Colour",
    "CountedBag",
    "Counting",
    "Delivery",
    "Hold",
    "Item",
    "Kit",
    "KitHold",
    "LedgerLine",
    "Need",
    "Order",
    "OrderLine",
    "ShelfSettings",
    "Supplier",
    "SupplierBag",
]
