from inventory.models.item import Colour, Item

__all__ = ["Colour", "Item"]
