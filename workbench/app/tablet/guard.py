"""Who may come in: pages of this server only, and from other machines only who has the word."""

import secrets
from collections import deque
from dataclasses import dataclass, field
from html import escape
from ipaddress import ip_address
from socket import gethostname
from time import monotonic
from urllib.parse import urlsplit

from aiohttp.typedefs import Handler
from aiohttp.web import (
    HTTPForbidden,
    HTTPSeeOther,
    HTTPUnauthorized,
    Request,
    Response,
    StreamResponse,
    middleware,
)

from workbench.app.tablet.words import page

# Without those that are easily taken for each other; twelve of them are 59 bits.
_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"
_GROUPS, _GROUP = 3, 4
MOST_WRONG = 10
WAIT_SECONDS = 60.0
"""The door takes no word while so many wrong ones were tried within this time."""
_HEADERS = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; "
        "font-src 'self'; img-src 'self' data:; connect-src 'self' ws:; form-action 'self'; "
        "base-uri 'none'; frame-ancestors 'none'"
    ),
    "Referrer-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
}


def new_word() -> str:
    """A word that nobody guesses, to be typed once on a tablet."""
    groups = ("".join(secrets.choice(_LETTERS) for _ in range(_GROUP)) for _ in range(_GROUPS))
    return "-".join(groups)


@dataclass(frozen=True, slots=True)
class Guard:
    """Lets a request pass or refuses it; `word` None lets everybody in.

    The word is typed into a form, so that no address, history or log holds it; after that a
    cookie with a secret of its own stands for it, until the browser or the server is closed.
    """

    word: str | None
    secret: str = field(default_factory=secrets.token_urlsafe)
    wrong: deque[float] = field(default_factory=lambda: deque(maxlen=MOST_WRONG))

    @middleware
    async def admit(self, request: Request, handler: Handler) -> StreamResponse:
        if not _names_this_machine(request.host):
            # A page elsewhere had its own name point to this machine.
            raise HTTPForbidden(text="This is not an address of this machine.")
        if not _comes_from_here(request):
            raise HTTPForbidden(text="Another page may not use this one.")
        if self.word is None or self._has_secret(request):
            return await handler(request)
        return await self._ask(request, self.word)

    def _has_secret(self, request: Request) -> bool:
        return _same(request.cookies.get(_cookie(request), ""), self.secret)

    async def _ask(self, request: Request, word: str) -> StreamResponse:
        if request.path != "/":
            raise HTTPUnauthorized(text="The access word is wanted first.")
        if request.method != "POST":
            return _form("")
        if len(self.wrong) == MOST_WRONG and monotonic() - self.wrong[0] < WAIT_SECONDS:
            return _form("Too many wrong words: the door waits for a minute.", 429)
        if not _same(_plain(await _typed(request)), _plain(word)):
            self.wrong.append(monotonic())
            return _form("That is not the word.")
        entered = HTTPSeeOther("/")
        entered.set_cookie(_cookie(request), self.secret, httponly=True, samesite="Strict")
        raise entered


async def add_headers(_: Request, response: StreamResponse) -> None:
    """Have the browser keep nothing, load nothing from elsewhere and show this in no frame."""
    response.headers.update(_HEADERS)


def _names_this_machine(host: str) -> bool:
    """Whether `host` is a plain address or this machine's name: no page elsewhere has those."""
    own = gethostname().lower()
    try:
        name = (urlsplit(f"//{host}").hostname or "").lower()
        return name in ("localhost", own, f"{own}.local") or bool(ip_address(name))
    except ValueError:
        return False


def _comes_from_here(request: Request) -> bool:
    """Whether no page of another origin asks; browsers always name the origin of a websocket."""
    origin = request.headers.get("Origin")
    if origin is None:
        return request.headers.get("Upgrade", "").lower() != "websocket"
    return origin in (f"http://{request.host}", f"https://{request.host}")


async def _typed(request: Request) -> str:
    try:
        return str((await request.post()).get("word", ""))
    except (LookupError, ValueError, OSError):  # no form that a browser sends
        return ""


def _cookie(request: Request) -> str:
    """Browsers give all ports of a machine the same cookies."""
    _, _, port = request.host.rpartition(":")
    return f"trimtally-{port if port.isascii() and port.isdecimal() else 80}"


def _same(given: str, wanted: str) -> bool:
    return secrets.compare_digest(given.encode(errors="replace"), wanted.encode())


def _plain(word: str) -> str:
    return "".join(filter(str.isalnum, word.lower()))


def _form(wrong: str, status: int = 401) -> Response:
    body = page("door.html", wrong=escape(wrong))
    return Response(status=status, text=body, content_type="text/html")
