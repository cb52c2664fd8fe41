class QuoteRefused(Exception):
    """Something cannot be done with a quote. The message is for the owner to read."""
