"""How a client pays: the owner's own words, a link, an account and, in euros, a code to read."""

from dataclasses import dataclass

from django.utils.safestring import SafeString

from decor.documents.codes import code_svg
from decor.models import Business
from decor.models.business import Currency
from decor.payments.account import Account
from decor.payments.bank import iban_text
from decor.payments.transfer_code import can_have_code, transfer_code


@dataclass(frozen=True, kw_only=True)
class PaymentWays:
    """`reference` is what a client puts with the payment so that it can be told whose it is."""

    amount_cents: int
    reference: str
    words: str
    link: str
    account_name: str
    iban: str
    bic: str
    code: SafeString | None

    @property
    def is_empty(self) -> bool:
        return not (self.words or self.link or self.iban)


def payment_ways(*, business: Business, reference: str, amount_cents: int) -> PaymentWays:
    """Of one payment of `amount_cents`. Include decor/payments/partials/payment_ways.html with
    it as `ways`, on paper decor/payments/partials/payment_ways_pdf.html."""
    return PaymentWays(
        amount_cents=amount_cents,
        reference=reference,
        words=business.how_to_pay,
        link=business.payment_link,
        account_name=business.account_name or business.name,
        iban=iban_text(business.account_iban),
        bic=business.account_bic,
        code=_code(business, reference, amount_cents),
    )


def ways_of(account: Account, *, business: Business) -> PaymentWays | None:
    """Of what is due next: all that is late, else the first to come. None where all is paid."""
    if account.next_due is None:
        return None
    due = account.overdue_cents or account.next_due.open_cents
    return payment_ways(business=business, reference=reference_of(account), amount_cents=due)


def reference_of(account: Account) -> str:
    """The quote's number, with which a schedule's source begins; without one, the job's."""
    source = account.dues[0].due.source if account.dues else ""
    return source.split(",")[0] or f"Job {account.job.pk}"


def _code(business: Business, reference: str, amount_cents: int) -> SafeString | None:
    is_in_euros = business.currency == Currency.EUR and business.account_iban
    if not is_in_euros or not can_have_code(amount_cents):
        return None
    return code_svg(
        transfer_code(
            name=business.account_name or business.name[:70],
            iban=business.account_iban,
            bic=business.account_bic,
            amount_cents=amount_cents,
            reference=reference,
        ),
        css_class="transfer-code",
    )
