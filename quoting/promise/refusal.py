"""Why an acceptance could not be made a promise. Nothing of it was held."""

from quoting.models.client_page import Outcome


class NotPromised(Exception):
    """The message is for the owner to read; `outcome` says what the client is told."""

    def __init__(self, why: str, *, outcome: Outcome = Outcome.TO_CONFIRM) -> None:
        super().__init__(why)
        self.outcome = outcome

    @property
    def can_be_overruled(self) -> bool:
        """Hours and hands can be found somewhere; balloons that are not there cannot."""
        return isinstance(self, NoTime)


class NoTime(NotPromised):
    """The people there are cannot be there then, or have no hours left to make it."""
