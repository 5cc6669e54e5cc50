"""Seeded edits of a small book on disk, of the kinds that people and version control make."""

from __future__ import annotations

import os
import random
from collections.abc import Callable
from pathlib import Path

from tests.support.example_book import example_book

_FIGURES = (
    "throttle-pickup",
    "max-advance",
    "cranking-correction",
    "trigger-gap",
    "idle-timing",
    "idle-speed",
    "plug-gap",
    "breaker-gap",
    "cranking-speed",
    "plug-torque",
)
_VARIANTS = (
    ("skerrow", "example-2", "Example 33", ("300100", "500100"), ("418999", "599999")),
    ("skerrow", "example-3", "Example 29", ("300100", "600100"), ("418999", "699999")),
    ("pellwater", "example-4", "Example 28", ("maker: skerrow", "maker: pellwater"), ("btdc: 24", "btdc: 23")),
    ("pellwater", "example-5", "Example 27", ("maker: skerrow", "maker: pellwater"), ("0.030", "0.035")),
)


def small_book() -> dict[str, bytes]:
    """The example book with some more families, and of the catalogue only what they use."""
    files = {
        file: raw
        for file, raw in example_book().items()
        if not file.startswith("catalogue/") or file.removeprefix("catalogue/").removesuffix(".yaml") in _FIGURES
    }
    first = files["families/skerrow/example.yaml"].decode()
    for maker, name, called, *changes in _VARIANTS:
        text = first.replace("Example 31", called)
        for old, new in changes:
            text = text.replace(old, new)
        files[f"families/{maker}/{name}.yaml"] = text.encode()
    return files


class Book:
    """A book on disk and the same in memory, edited alike."""

    def __init__(self, folder: Path, seed: int) -> None:
        self.folder = folder
        self.files: dict[str, bytes] = {}
        self._random = random.Random(seed)
        self._taken_out: list[tuple[str, bytes]] = []
        self._clock = 1_700_000_000_000_000_000
        for file, raw in small_book().items():
            self.write(file, raw)

    def write(self, file: str, raw: bytes) -> None:
        """Write a file; no two writings bear the same time."""
        path = self.folder / file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(raw)
        self._clock += 1_000_000_000
        os.utime(path, ns=(self._clock, self._clock))
        self.files[file] = raw

    def remove(self, file: str) -> bytes:
        """Take a file out."""
        (self.folder / file).unlink()
        return self.files.pop(file)

    def edit(self) -> str:
        """One edit; says which."""
        edits: list[Callable[[], str]] = [
            self._digit,
            self._digit,
            self._digit,
            self._line_out,
            self._line_twice,
            self._comment,
            self._word,
            self._word,
            self._take_out,
            self._put_back,
            self._put_back,
            self._rename,
            self._copy,
            self._exception,
            self._retire,
            self._withdraw,
            self._reprint,
            self._kind_of_source,
            self._plausible,
            self._break,
            self._misplace,
            self._touch,
            self._empty,
            self._mend,
            self._mend,
        ]
        return self._random.choice(edits)()

    def _pick(self, *folders: str) -> str:
        files = sorted(file for file in self.files if not folders or file.startswith(folders))
        return self._random.choice(files or sorted(self.files))

    def _change(self, file: str, text: str) -> str:
        self.write(file, text.encode("utf-8", "surrogateescape"))
        return file

    def _text(self, file: str) -> str:
        return self.files[file].decode("utf-8", "surrogateescape")

    def _replace_line(self, file: str, change: Callable[[str], str]) -> str:
        lines = self._text(file).split("\n")
        number = self._random.randrange(len(lines))
        lines[number] = change(lines[number])
        return self._change(file, "\n".join(lines))

    def _digit(self) -> str:
        file = self._pick("families/")
        text = self._text(file)
        places = [place for place, letter in enumerate(text) if letter.isdigit()]
        if not places:
            return "no digit"
        place = self._random.choice(places)
        return "digit " + self._change(file, f"{text[:place]}{self._random.randrange(10)}{text[place + 1 :]}")

    def _line_out(self) -> str:
        return "line out " + self._replace_line(self._pick("families/", "sources/", "catalogue/"), lambda _: "")

    def _line_twice(self) -> str:
        return "line twice " + self._replace_line(self._pick("families/", "reports/"), lambda line: f"{line}\n{line}")

    def _comment(self) -> str:
        file = self._pick()
        return "comment " + self._change(file, "# moved down\n" + self._text(file))

    def _word(self) -> str:
        """Another source, figure, state or caution, known or not."""
        words = (
            "handbook",
            "manual",
            "reprint",
            "bench",
            "plate",
            "handbok",
            "throttle-pickup",
            "max-advance",
            "plug-gap",
            "cranking",
            "running",
            "too-much-advance",
            "skerrow",
            "pellwater",
            "skerow",
        )
        file = self._pick("families/", "reports/", "routines/", "retired", "withdrawn")
        old, new = self._random.choice(words), self._random.choice(words)
        return f"{old} to {new} " + self._change(file, self._text(file).replace(old, new, self._random.randrange(1, 4)))

    def _take_out(self) -> str:
        file = self._pick()
        self._taken_out.append((file, self.remove(file)))
        return f"out {file}"

    def _put_back(self) -> str:
        if not self._taken_out:
            return "nothing to put back"
        file, raw = self._taken_out.pop(self._random.randrange(len(self._taken_out)))
        self.write(file, raw)
        return f"back {file}"

    def _rename(self) -> str:
        file = self._pick("families/", "sources/", "makers/", "reports/")
        name = self._random.choice(["other", "example-2", "example-9", "exampel", "Handbook", "bench"])
        to = file.rsplit("/", 1)[0] + f"/{name}.yaml"
        if self._random.random() < 0.3:
            to = to.replace("/skerrow/", "/pellwater/")
        self.write(to, self.remove(file))
        return f"rename {file} {to}"

    def _copy(self) -> str:
        file = self._pick("families/", "sources/")
        to = file.removesuffix(".yaml") + f"-{self._random.randrange(4)}.yaml"
        self.write(to, self.files[file])
        return f"copy {file} {to}"

    def _exception(self) -> str:
        rule = self._random.choice(
            [
                "hazard-single-source",
                "hazard-read-once",
                "source-unused",
                "sibling-outlier",
                "outside-plausible",
                "disputed",
                "no-such-rule",
            ]
        )
        at = self._random.choice(["", "at: max-advance, ", "at: {source: handbook}, ", "at: plug-gap, "])
        file = self._pick("families/", "sources/")
        text = self._text(file).split("exceptions:")[0].rstrip("\n")
        return "exception " + self._change(file, f"{text}\nexceptions:\n  - {{rule: {rule}, {at}because: a reason}}\n")

    def _retire(self) -> str:
        entry = self._random.choice(["skerrow/example", "skerrow/example-3", "handbook", "bench", "pellwater"])
        kind = "family" if "/" in entry else "source"
        text = f"  - {{id: {entry}, kind: {kind}, to: [skerrow/other], since: 2026-02-01, because: a misread badge}}\n"
        self.write("retired.yaml", f"invented: true\nretired:\n{text}".encode())
        return f"retire {entry}"

    def _withdraw(self) -> str:
        family = self._random.choice(["skerrow/example", "skerrow/other", "pellwater/example-4", "skerrow/gone"])
        figure = self._random.choice(["plug-gap", "max-advance"])
        source = self._random.choice(["handbook", "reprint", "manual"])
        address = f"{{family: {family}, figure: {figure}, source: {source}, page: 42}}"
        text = f"  - statement: {address}\n    since: 2026-02-01\n    because: a misprint\n    severity: care\n"
        self.write("withdrawn.yaml", f"invented: true\nwithdrawn:\n{text}".encode())
        return f"withdraw {family} {figure}"

    def _reprint(self) -> str:
        file = self._pick("sources/")
        of = self._random.choice(["handbook", "manual", "reprint", "nothing-known"])
        text = self._text(file).split("reprint_of:")[0].rstrip("\n")
        return "reprint " + self._change(file, f"{text}\nreprint_of: {of}\n")

    def _kind_of_source(self) -> str:
        kinds = ("handbook", "plate", "memory", "common-practice", "bench-measurement", "bulletin")
        file = self._pick("sources/")
        old, new = self._random.choice(kinds), self._random.choice(kinds)
        return f"{old} is {new} " + self._change(file, self._text(file).replace(f"kind: {old}", f"kind: {new}"))

    def _plausible(self) -> str:
        file = self._pick("catalogue/")
        changes = (
            ("35", "20"),
            ("states: [", "states: [static, "),
            ("hazard: A", "hazard: C"),
            ("in", "ft"),
            ("hazard: C", "hazard: A"),
            ("safest_end: later", "safest_end: none"),
        )
        old, new = self._random.choice(changes)
        return f"catalogue {old} to {new} " + self._change(file, self._text(file).replace(old, new, 1))

    def _break(self) -> str:
        file = self._pick()
        raw = self.files[file]
        place = self._random.randrange(len(raw) + 1)
        junk = self._random.choice([b"\xff", b"\t", b"[", b": ", b"&a ", b"\r\n", b"\x00", b"- ", b'"'])
        self.write(file, raw[:place] + junk + raw[place:])
        return f"break {file}"

    def _misplace(self) -> str:
        to = self._random.choice(["families/astray.yaml", "sources/spare.yml", "notes.yaml", "a b/c.yaml"])
        self.write(to, self.files[self._pick()])
        return f"misplace {to}"

    def _touch(self) -> str:
        file = self._pick()
        self.write(file, self.files[file])
        return f"touch {file}"

    def _empty(self) -> str:
        file = self._pick()
        self.write(file, b"")
        return f"empty {file}"

    def _mend(self) -> str:
        """Put files back as they were at first, so that the book does not end in ruins."""
        sound = small_book()
        for file in self._random.sample(sorted(sound), 8):
            if self.files.get(file) != sound[file]:
                self.write(file, sound[file])
        for file in sorted(self.files.keys() - sound.keys())[:2]:
            self.remove(file)
        return "mend"
