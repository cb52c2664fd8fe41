import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer


class Listener:
    """A web server on loopback: it answers with redirects and remembers what it was asked."""

    def __init__(self) -> None:
        asked = self.asked = []

        class Handler(BaseHTTPRequestHandler):
            def do_GET(self) -> None:
                asked.append(self.path)
                self.send_response(302)
                self.send_header("Location", "file:///etc/passwd")
                self.end_headers()

            def log_message(self, *args: object) -> None:
                pass

        self.server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self.url = f"http://127.0.0.1:{self.server.server_port}"
        threading.Thread(target=self.server.serve_forever, daemon=True).start()
