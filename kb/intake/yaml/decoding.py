"""Bytes to text: encodings, line ends, and invisible characters.

The result is two texts of equal length and equal lines: one as written, for messages, and one cleaned, in which spaces
replace the characters that YAML would stop at, so that the rest of the file can still be read.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from kb.finding import Place
from kb.intake.yaml.fault import Fault
from kb.intake.yaml.text_lines import Lines, shortened

MOST_OF_A_KIND = 20
"""How many faults of one kind are reported for a file; the next run, after these are corrected, reports the rest."""

_PLAIN = bytes([*range(0x20, 0x7F), 0x0A])
_WIDE_MARKS = (
    (codecs.BOM_UTF32_LE, "utf-32-le"),  # before UTF-16, whose mark begins with the same bytes
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)

# A byte that is not UTF-8 is kept as one of these characters until it is reported ("surrogateescape").
_LIKELY_LETTERS = {chr(0xDC00 + byte): bytes([byte]).decode("cp1252", "replace") for byte in range(0x80, 0x100)}
_SURROGATE = re.compile("\udced[\udca0-\udcbf][\udc80-\udcbf]")
_SURROGATE_BYTES = re.compile(rb"\xed[\xa0-\xbf][\x80-\xbf]")

# Characters that YAML forbids, that it takes for a line end, that reverse the text, or that have no width. The joiners
# U+200C and U+200D are allowed: some scripts cannot be written without them.
_UNSEEN = (
    "\x00-\x08\x0b-\x1f\x7f-\x9f\xad\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f"
    "\ufeff\ufff9-\ufffb\ufffe\uffff\U000e0000-\U000e007f"
)
# Spaces of other widths are letters to YAML; they matter only next to one of YAML's signs.
_SPACES = "\xa0\u1680\u2000-\u200a\u202f\u205f\u3000"
_BESIDE_SIGN = rf"(?:^|(?<=[:,\[{{\-\n ]))[{_SPACES}]+|(?<![{_SPACES}])[{_SPACES}]++(?= *(?:$|[:,\]}}#]))"
_CHARACTER_RULES = tuple(
    (rule, re.compile(f"[{alphabet}]"), re.compile(pattern, re.MULTILINE))
    for rule, alphabet, pattern in (
        ("control-character", _UNSEEN, f"[{_UNSEEN}]+"),
        ("odd-space", _SPACES, _BESIDE_SIGN),
        ("tab-indent", "\t", r"^(?: |- )*-?(\t[ \t]*)(?=[^\s#])"),
        ("", "\t", r"^ *(\t[ \t]*)(?=$|#)"),  # harmless on an empty line or before a comment
    )
)
"""The rule, its characters, and where they matter: in the last group, or in the whole match if there is none."""

_NUMBERED = re.compile(r"\\(u[0-9a-fA-F]{4}|U[0-9a-fA-F]{8})")


@dataclass(frozen=True, slots=True)
class Decoded:
    """The text as written and as cleaned, the faults, and the numbers of the lines whose structure they may change."""

    text: str
    clean: str
    faults: tuple[Fault, ...] = ()
    altered: frozenset[int] = frozenset()


def decode(raw: bytes) -> Decoded:
    """The text of a file. Bytes that are not UTF-8 are reported and read as the letters they most likely are."""
    odd = raw.translate(None, _PLAIN)
    if not odd:
        text = raw.decode()
        return Decoded(text, text)
    text, encoding = _text(raw)
    letters = set(text) if encoding else _letters(text, odd)
    ending = "CRLF" if "\r\n" in text else "CR" if "\r" in text else ""
    first_ending = text.count("\n", 0, text.find("\r")) + 1 if ending else 0
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    faults: list[Fault] = []
    if not_utf8 := _LIKELY_LETTERS.keys() & letters:
        faults += [*_surrogates(text), *_not_utf8(raw, text, not_utf8)]
        text = _SURROGATE.sub("\ufffd" * 3, text)
        for character in not_utf8:
            text = text.replace(character, _LIKELY_LETTERS[character])
    lines = Lines(text)
    if encoding:
        rule = "byte-order-mark" if encoding == "utf-8" else "wrong-encoding"
        faults.append(Fault(rule, found=encoding[:6].upper(), place=Place(1, 1, 1, len(lines.line(1)) + 1)))
    if ending:
        faults.append(Fault("line-endings", found=ending, place=lines.whole_line(first_ending)))
    clean, altered = text, set[int]()
    for rule, alphabet, pattern in _CHARACTER_RULES:
        if any(map(alphabet.match, letters - {"\r"})):
            seen = [*_matches(rule, pattern, lines)] if rule else []
            clean = pattern.sub(_spaced, clean)
            faults += seen
            altered.update(fault.place.line for fault in seen if fault.place)
    return Decoded(text, clean, tuple(faults), frozenset(altered))


def _letters(text: str, odd: bytes) -> set[str]:
    """The characters of a text that are not plain ASCII, from its few such bytes where that is safe."""
    try:
        text.encode()  # fails if a byte was not UTF-8; the other odd bytes might then combine into a wrong letter
        return set(odd.decode())
    except UnicodeError:
        return set(text)


def _text(raw: bytes) -> tuple[str, str]:
    """The bytes as text, and the name of the encoding if it is wrong or marked with a byte order mark."""
    if encoding := _wide_encoding(raw):
        return raw.decode(encoding, "replace").removeprefix("\ufeff"), encoding
    bare = raw.removeprefix(codecs.BOM_UTF8)
    return bare.decode("utf-8", "surrogateescape"), "utf-8" if len(bare) < len(raw) else ""


def _wide_encoding(raw: bytes) -> str:
    """The name of the two-byte or four-byte encoding that the bytes are in, or an empty text."""
    for mark, encoding in _WIDE_MARKS:
        if raw.startswith(mark):
            return encoding
    even, odd = raw[:400:2], raw[1:400:2]
    for encoding, high, low in (("utf-16-le", odd, even), ("utf-16-be", even, odd)):
        if len(high) > 1 and high.count(0) > 0.8 * len(high) and not low.count(0):
            return encoding
    return ""


def _surrogates(text: str) -> Iterator[Fault]:
    lines = Lines(text)
    for match in islice(_SURROGATE.finditer(text), MOST_OF_A_KIND):
        code = ord(match.group().encode("utf-8", "surrogateescape").decode("utf-8", "surrogatepass"))
        place = lines.place(*match.span())
        yield Fault("lone-surrogate", found=f"U+{code:04X}", expected=("bytes",), place=place)


def _not_utf8(raw: bytes, text: str, not_utf8: set[str]) -> Iterator[Fault]:
    """The first byte that is not UTF-8: one fault, since saving the file correctly cures all of them."""
    masked = _SURROGATE.sub("???", text)
    try:
        _SURROGATE_BYTES.sub(b"???", raw).decode()
    except UnicodeDecodeError as error:
        index = masked.index(chr(0xDC00 + raw[error.start]))
        expected = (_LIKELY_LETTERS[masked[index]], str(error.start), str(sum(map(masked.count, not_utf8))))
        place = Lines(text).place(index, index + 1)
        yield Fault("not-utf8", found=f"0x{raw[error.start]:02X}", expected=expected, place=place)


def _matches(rule: str, pattern: re.Pattern[str], lines: Lines) -> Iterator[Fault]:
    """A fault for each of the first matches of a pattern."""
    for match in islice(pattern.finditer(lines.text), MOST_OF_A_KIND):
        span = match.span(pattern.groups)
        yield Fault(rule, found=shortened(match.group(pattern.groups)), place=lines.place(*span))


def _spaced(match: re.Match[str]) -> str:
    start, end = match.span(match.re.groups)
    return match.group()[: start - match.start()] + " " * (end - start)


def without_lone_surrogates(clean: str) -> str:
    """The text with a replacement character for every escape of half a character or none; its length is kept."""
    return _NUMBERED.sub(_known_character, clean)


def _known_character(match: re.Match[str]) -> str:
    code = int(match.group(1)[1:], 16)
    known = code < 0xD800 or 0xDFFF < code <= 0x10FFFF
    return match.group() if known else r"\ufffd" if len(match.group()) == 6 else r"\U0000fffd"
