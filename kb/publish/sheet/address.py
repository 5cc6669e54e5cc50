"""The address of a family's page, and its QR code. What belongs to one engine or one job never goes into it."""

from __future__ import annotations

from urllib.parse import quote, urlsplit

from kb.errors import QuantityError

EXAMPLE_SITE = "https://stopscrew.example/"
"""Where the book is assumed to be published; RFC 2606 reserves the name for examples (from memory)."""

QUIET = 4
"""Empty modules around a QR code; ISO/IEC 18004 asks for four (from memory)."""


def read_site(words: str) -> str:
    """The address of a site, ending in a slash.

    Raises:
        QuantityError: it is not a plain web address; the message says what to type.

    >>> read_site("https://book.example/sheets")
    'https://book.example/sheets/'
    """
    try:
        parts = urlsplit(words)
        plain = parts.scheme in ("http", "https") and parts.hostname and not (parts.query or parts.fragment)
        right = bool(plain) and "@" not in parts.netloc and (parts.port or 1) and _printable(words)
    except ValueError:
        right = False
    if not right:
        raise QuantityError(
            f"{words[:60]!r} is not the address of a site; write http or https, the name and the folder, "
            f"such as {EXAMPLE_SITE}"
        )
    return words if words.endswith("/") else f"{words}/"


def _printable(words: str) -> bool:
    return words.isascii() and words.isprintable() and not set(words) & set(" \"'<>\\^`{|}?#")


def family_address(site: str, family: str) -> str:
    """The address of a family's page.

    Raises:
        QuantityError: as ``read_site``.

    >>> family_address(EXAMPLE_SITE, "skerrow/ketch-47")
    'https://stopscrew.example/families/skerrow/ketch-47/'
    """
    return f"{read_site(site)}families/{quote(family)}/"


def qr_code(address: str) -> str:
    """The QR code of an address as SVG, black on white, its quiet border in it; the same for every engine."""
    import segno  # no part of a plain install, which needs none of it for the sheet as Markdown or JSON

    code = segno.make(address, error="m", micro=False)
    return code.svg_inline(
        border=QUIET,
        dark="#000",
        light="#fff",
        svgclass=None,
        lineclass=None,
        omitsize=True,
        unit=None,
        title="QR code of the family's page",
        desc=address,
        svgid=None,
    )
