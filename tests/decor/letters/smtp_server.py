"""A mail server on loopback that speaks as much of RFC 5321 as smtplib asks of it."""

import socketserver
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from threading import Thread

HANG_UP = "hang up"


@dataclass
class MailServer:
    """What it answers to each verb, and what it took: the recipients and text of each letter."""

    answers: dict[str, str] = field(default_factory=dict)
    taken: list[tuple[list[str], str]] = field(default_factory=list)
    port: int = 0


@contextmanager
def mail_server() -> Iterator[MailServer]:
    server = MailServer()

    class Dialogue(socketserver.StreamRequestHandler):
        def handle(self) -> None:
            self.say("220 loopback")
            recipients: list[str] = []
            for line in iter(self.rfile.readline, b""):
                verb = line.decode().split(" ")[0].strip().upper()
                if verb == "RCPT":
                    recipients.append(line.decode().strip())
                answer = server.answers.get(verb) or {"DATA": "354 go on", "QUIT": "221 bye"}.get(
                    verb, "250 well"
                )
                if answer.startswith("354"):
                    self.say(answer)
                    answer = self.text_read(recipients)
                if answer == HANG_UP:
                    return
                self.say(answer)
                if verb == "QUIT":
                    return

        def text_read(self, recipients: list[str]) -> str:
            lines = [line.decode() for line in iter(self.rfile.readline, b".\r\n")]
            answer = server.answers.get("TEXT", "250 taken")
            if answer.startswith("250"):
                server.taken.append((recipients, "".join(lines)))
            return answer

        def say(self, line: str) -> None:
            self.wfile.write(f"{line}\r\n".encode())

    with socketserver.ThreadingTCPServer(("127.0.0.1", 0), Dialogue) as listening:
        server.port = listening.server_address[1]
        thread = Thread(target=listening.serve_forever, kwargs={"poll_interval": 0.01})
        thread.start()
        try:
            yield server
        finally:
            listening.shutdown()
            thread.join()
