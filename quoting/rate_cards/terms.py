"""Terms to start from, in our own words. They are no legal advice, and the pages say so."""

from typing import Final

HAVE_TERMS_CHECKED: Final = (
    "This text is a start and not legal advice. Law differs from place to place: have it checked "
    "by someone who knows yours before you rely on it."
)

DEFAULT_TERMS: Final = """\
Booking. Your date is kept for you once the deposit is paid. Until then another client may \
take it. The rest is due on the day named in this quote, before we set up.

Changes. Tell us early. Colours and size can be changed as long as the balloons are not \
bought; a change may change the price, and we send you a new quote before we go on.

Calling off. If you call off, we keep part of the total for work and balloons already set aside \
for you: the nearer the day, the more. How much is in the table with these terms. If we have to \
call off, you get back everything you have paid.

Weather. Outdoors, balloons suffer from wind, rain, heat and strong sun, and a garland outside \
lasts hours rather than days. If it is too windy or too stormy to work safely, we do not put \
it up, and we look with you for a sheltered place or another time.

Getting in. Please see to it that we can reach the place at the agreed time, that someone who \
may decide is there or can be called, and that nothing stands where the garland goes. Waiting, \
stairs and long ways that we were not told of may be charged by the hour. The owner of the \
place must agree to what we fasten, and where.

How it looks. Every garland is made by hand. Its colours can differ a little from a screen or \
a print, and some balloons burst or shrink over time; that is in their nature and no fault.

Safety. Children under eight can choke or suffocate on balloons that are not inflated or that \
have burst: keep them away from small children and clear up the pieces at once. The balloons \
are made of natural rubber latex and can cause allergies: tell us and your guests. Never let \
balloons fly off outdoors, and keep foil balloons away from power lines. Please do not climb \
on, pull or move what we have put up.

Taking down. If taking down is part of this quote, frames and stands are ours and go back with \
us. If not, please return them clean and whole within three days."""
