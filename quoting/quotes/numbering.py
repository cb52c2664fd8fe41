"""Quote numbers such as LL-1042: the business's initials and a number that only goes up.

The number of the newest draft, if that is discarded, is given again: nobody was sent it.
"""

import unicodedata

from decor.models import Business
from quoting.models import Quote

FIRST_NUMBER = 1001
INITIALS = 2
NO_INITIALS = "Q"


def next_quote_number() -> str:
    """Call inside a transaction: it locks the business, so that no two quotes get one number."""
    business = Business.objects.select_for_update(no_key=True).get(pk=Business.THE_ONE)
    latest = Quote.objects.order_by("-pk").values_list("number", flat=True).first()
    running = int(latest.rpartition("-")[2]) + 1 if latest else FIRST_NUMBER
    return f"{initials_of(business.name)}-{running}"


def initials_of(name: str) -> str:
    """The first letters of the first two words; of a single word its first two letters."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    words = ["".join(filter(str.isalpha, word)) for word in plain.upper().split()]
    words = [word for word in words if word]
    if len(words) == 1:
        return words[0][:INITIALS]
    return "".join(word[0] for word in words[:INITIALS]) or NO_INITIALS
