"""One letter as an e-mail message, and what a mail server's refusal means in plain words."""

import smtplib
from dataclasses import dataclass
from email.utils import formataddr

from django.conf import settings
from django.core.mail import BadHeaderError, EmailMessage

from decor.business.service import the_business
from decor.letters.filling import one_line
from decor.models import Letter

NO_SENDER = "Your business has no e-mail address yet: give it one under Business, then try again."
NOT_REACHED = "The mail server could not be reached."
LOGIN_REFUSED = "The mail server did not accept the name and password it was given."
ADDRESS_REFUSED = "The mail server says that {to} cannot get mail. Is the address right?"
SENDER_REFUSED = "The mail server will not send from {sender}."
NOT_TAKEN = "The mail server did not take it{code}."
BAD_HEADER = "The subject or an address has a line break in it."
FOR_GOOD = 500  # RFC 5321, 4.2.1: 4yz, try again later; 5yz, do not send the same again


class NoSender(Exception):
    """There is no address that a letter could come from."""


@dataclass(frozen=True, kw_only=True)
class Failure:
    words: str
    is_for_good: bool = False
    is_the_server: bool = False


def message_of(letter: Letter, *, body: str) -> EmailMessage:
    """From the business by name; answers go to the business's own address."""
    business = the_business()
    answers_to = business.email if business else ""
    sender = settings.DEFAULT_FROM_EMAIL or answers_to
    if not sender:
        raise NoSender
    message = EmailMessage(
        subject=letter.subject,
        body=body,
        from_email=formataddr((one_line(business.name) if business else "", sender)),
        to=[letter.to],
        reply_to=[answers_to] if answers_to else None,
        headers={"Message-ID": _message_id(letter, sender)},
    )
    if letter.attachment_name:
        message.attach(letter.attachment_name, bytes(letter.attachment), letter.attachment_type)
    return message


def failure_of(error: Exception, letter: Letter) -> Failure | None:
    """None for what is no failure of the mail: a mistake of ours, to be seen as one."""
    match error:
        case NoSender():
            return Failure(words=NO_SENDER)
        case BadHeaderError():
            return Failure(words=BAD_HEADER, is_for_good=True)
        case smtplib.SMTPAuthenticationError():
            return Failure(words=LOGIN_REFUSED, is_the_server=True)
        case smtplib.SMTPRecipientsRefused():
            codes = [code for code, _ in error.recipients.values()]
            return Failure(
                words=ADDRESS_REFUSED.format(to=letter.to), is_for_good=min(codes) >= FOR_GOOD
            )
        case smtplib.SMTPSenderRefused():
            return Failure(words=SENDER_REFUSED.format(sender=error.sender))
        case smtplib.SMTPServerDisconnected() | smtplib.SMTPConnectError():
            return Failure(words=NOT_REACHED, is_the_server=True)
        case smtplib.SMTPResponseException():
            return Failure(words=NOT_TAKEN.format(code=f" (its code: {error.smtp_code})"))
        case smtplib.SMTPException():
            return Failure(words=NOT_TAKEN.format(code=""))
        case OSError():
            return Failure(words=NOT_REACHED, is_the_server=True)
    return None


def _message_id(letter: Letter, sender: str) -> str:
    """The same at every try: should a letter ever go twice, mail programs can tell."""
    host = sender.rpartition("@")[2]
    return f"<letter-{letter.pk}-{letter.written_at:%Y%m%d%H%M%S%f}@{host}>"
