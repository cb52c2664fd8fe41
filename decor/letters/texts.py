"""The words of each kind of letter: ours to begin with, the owner's once she has changed them."""

from dataclasses import dataclass

from django.db import transaction

from decor.letters.filling import plain_lines
from decor.models import LetterText
from decor.models.letter import LetterKind


@dataclass(frozen=True)
class Words:
    subject: str
    body: str


SIGNED = "\n\n{your_name}\n{business}"

OURS = {
    LetterKind.QUOTE: Words(
        "Your quote for {job}",
        "Hello {client},\n\n"
        "Thank you for asking me. Here is my quote {quote_number} for {job} on {event_day}: "
        "{total} in all.\n\n"
        "On your own page you can look at it, ask me something, and say yes:\n"
        "{client_page}\n\n"
        "The same quote is attached as a PDF. It is good until {good_until}." + SIGNED,
    ),
    LetterKind.QUOTE_REMINDER: Words(
        "Your quote for {job} is good until {good_until}",
        "Hello {client},\n\n"
        "I wanted to ask whether my quote {quote_number} for {job} reached you. It is good until "
        "{good_until}; until you say yes, I cannot keep {event_day} for you.\n\n"
        "Your page, to read it again, ask, say yes or no:\n"
        "{client_page}\n\n"
        "If something is not right yet, tell me, and I will change it. And if you have decided "
        "otherwise, a short no is just as welcome." + SIGNED,
    ),
    LetterKind.PAYMENT_REMINDER: Words(
        "A payment for {job}: {amount_due} by {due_by}",
        "Hello {client},\n\n"
        "For {job} on {event_day}, {amount_due} is to be paid by {due_by}. Please put "
        "{quote_number} with the payment, so that I know it is yours.\n\n"
        "{how_to_pay}\n\n"
        "If it is on its way already, thank you: then there is nothing more to do." + SIGNED,
    ),
    LetterKind.PAYMENT_IN: Words(
        "Thank you: {last_payment} arrived",
        "Hello {client},\n\n"
        "Your payment of {last_payment} for {job} on {event_day} is here. Thank you.\n\n"
        "Still to pay: {still_to_pay}." + SIGNED,
    ),
    LetterKind.DAY_BEFORE: Words(
        "Tomorrow: {job}",
        "Hello {client},\n\n"
        "Tomorrow I bring {job} to {place}. I come {arrival_window}; please see that someone can "
        "let me in and that I may park close by.\n\n"
        "Two things for everybody's safety: pieces of a burst balloon can choke a small child or "
        "an animal, so please pick them up at once; and if anybody who comes has an allergy to "
        "latex, tell me today.\n\n"
        "Should anything have changed, answer this letter or ring me." + SIGNED,
    ),
    LetterKind.THANK_YOU: Words(
        "Thank you for having me",
        "Hello {client},\n\n"
        "Thank you for letting me make {job}. I hope it was a good day.\n\n"
        "If you took a picture that you like, I would love to see it. And if anything could have "
        "been better, please tell me that too." + SIGNED,
    ),
    LetterKind.ACCEPTED: Words(
        "You accepted quote {quote_number}",
        "Hello {client},\n\n"
        "You have accepted my quote {quote_number} for {job} on {event_day}: {total} in all. "
        "Thank you. What you accepted is attached as a PDF.\n\n"
        "{what_next}" + SIGNED,
    ),
    LetterKind.DECLINED: Words(
        "You declined quote {quote_number}",
        "Hello {client},\n\n"
        "You have declined my quote {quote_number} for {job}. Thank you for telling me; nothing "
        "more is asked of you.\n\n"
        "If that was a slip of the finger, or you would like something else, just answer this "
        "letter." + SIGNED,
    ),
    LetterKind.ASKED: Words(
        "Your question about quote {quote_number}",
        "Hello {client},\n\n"
        "Your question about {job} has reached me, and I will answer it myself:\n\n"
        "{question}" + SIGNED,
    ),
}  # fmt: skip


# When each is for, as the owner reads it while choosing.
WHAT_FOR = {
    LetterKind.QUOTE: "Brings the quote: the PDF, and the way to their own page.",
    LetterKind.QUOTE_REMINDER: "When a quote has been waiting for an answer.",
    LetterKind.PAYMENT_REMINDER: "When money is due or late.",
    LetterKind.PAYMENT_IN: "When a payment has arrived.",
    LetterKind.DAY_BEFORE: "Says between which times you come tomorrow.",
    LetterKind.THANK_YOU: "After the event.",
    LetterKind.ACCEPTED: "When they accept on their page; the PDF goes with it.",
    LetterKind.DECLINED: "When they decline on their page.",
    LetterKind.ASKED: "When they ask something on their page.",
}


def changed_kinds() -> set[str]:
    return set(LetterText.objects.values_list("kind", flat=True))


def words_of(kind: str) -> Words:
    changed = LetterText.objects.filter(kind=kind).first()
    return Words(changed.subject, changed.body) if changed else OURS[LetterKind(kind)]


@transaction.atomic
def words_set(*, kind: str, words: Words) -> None:
    LetterText.objects.update_or_create(
        kind=kind, defaults={"subject": words.subject, "body": plain_lines(words.body)}
    )


def words_reset(*, kind: str) -> None:
    LetterText.objects.filter(kind=kind).delete()
