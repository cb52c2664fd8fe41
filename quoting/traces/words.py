"""What the estimator says, as a sentence of its own."""


def sentence(message: str) -> str:
    return f"{message[:1].upper()}{message[1:]}."
