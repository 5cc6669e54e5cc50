"""From an error of the YAML parser to the mistake behind it: which rule, where, and what was probably meant."""

from __future__ import annotations

import re

import yaml

from kb.finding import Place
from kb.intake.yaml.fault import Fault
from kb.intake.yaml.limits import event_span
from kb.intake.yaml.salvage import indent
from kb.intake.yaml.text_lines import Lines, shortened

_KEY_BEFORE = re.compile(r""" *(?:- +)*(?:"[^"]*"|'[^']*'|[^\s:#"'](?:[^:#]|:(?=\S))*?)\s*:\s+(?=\S)""")
_NO_SPACE = re.compile(r" *(?:- +)*(?P<key>[A-Za-z][\w-]*):(?P<value>[^\s:/].*)| *-(?P<entry>[A-Za-z][\w-]*:.*)")
_ENTRY_START = re.compile(r" *(?:- +)*")
_LONGEST_KEY = 1_024  # YAML's own limit
_LINES_ABOVE = 200  # how far above an error its cause is looked for
_ESCAPE = re.compile(r"\\(?:x\w{0,2}|u\w{0,4}|U\w{0,8}|.|$)", re.MULTILINE)


def explain_syntax_error(error: yaml.YAMLError, clean: str) -> Fault:
    """The mistake behind an error of the parser, at the place where it must be corrected."""
    if not isinstance(error, yaml.MarkedYAMLError) or error.problem_mark is None:
        return Fault("syntax", found="other", expected=(str(error),), place=Place(1, 1, 1, 1))
    return _ParserError(error, error.problem_mark, clean).fault()


def unclosed_lines(error: yaml.YAMLError) -> tuple[int, int] | None:
    """The first and last line of the bracket or quote that is still open at the error, if there is one."""
    if not isinstance(error, yaml.MarkedYAMLError) or not error.context_mark or not error.problem_mark:
        return None
    inside = "flow" in (error.context or "") or "quoted" in (error.context or "")
    return (error.context_mark.line + 1, error.problem_mark.line + 1) if inside else None


class _ParserError:
    """One error of the parser with the text around it."""

    def __init__(self, error: yaml.MarkedYAMLError, mark: yaml.Mark, clean: str) -> None:
        self.problem = error.problem or ""
        self.context = error.context or ""
        self.clean = clean
        self.lines = Lines(clean)
        self.index = min(mark.index, len(clean))
        self.line = mark.line + 1
        self.column = mark.column
        context = error.context_mark or mark
        self.began, self.began_line, self.began_column = context.index, context.line + 1, context.column
        self.brackets, self.scalar = _parsed_before(clean)

    def fault(self) -> Fault:
        """The mistake, from what the parser says and the text at that place."""
        problem, context = self.problem, self.context
        if "alias" in problem and not context:
            return self._fault_at("alias", self.index, self._row_end(self.index))
        if "tag" in context or "tag" in problem:
            return self._fault_at("tag", self.began, self._word_end(self.began))
        if "escape" in problem or "hexdecimal" in problem:
            return self._escape()
        if "quoted scalar" in context:
            return self._open_quote(self.began)
        if "mapping values" in problem:
            return self._second_colon()
        if problem == "found unexpected ':'":
            return self._colon_in_brackets()
        if problem == "could not find expected ':'":
            return self._no_colon(self.began_line)
        if "scanning" not in context and (quoted := self._quoted_before()):
            return self._after_quote(*quoted)
        if "flow" in context or self.brackets:
            return self._in_brackets()
        if "anchor" in context or "alias" in context or "cannot start" in problem or "mapping keys" in problem:
            return self._sign(self.began if context else self.index)
        if "block scalar" in context:
            return self._syntax("header", self.began)
        if "block sequence entries" in problem:
            return self._syntax("list", self.index)
        return self._block()

    def _open_quote(self, start: int) -> Fault:
        return self._fault_at("quote-not-closed", start, self._row_end(start), self.clean[start])

    def _quoted_before(self) -> tuple[int, int] | None:
        """The span of the quoted text directly before the error, if there is one."""
        if self.scalar is None or self.scalar.style not in ("'", '"'):
            return None
        start, end = event_span(self.scalar)
        return (start, end) if end <= self.index and self.clean[end : self.index].strip(" ") == "" else None

    def _after_quote(self, start: int, end: int) -> Fault:
        if "\n" in self.clean[start:end]:
            return self._open_quote(start)
        if self.brackets and end < self.index:
            return self._fault_at("comma-missing", start, self._entry_end(self.index))
        return self._fault_at("text-after-quote", start, self._row_end(start), self.clean[start])

    def _escape(self) -> Fault:
        start = self.clean.rfind("\\", 0, self.index + 1)
        match = _ESCAPE.match(self.clean, max(start, 0))
        end = match.end() if match else self.index + 1
        if "Unicode" in self.problem:
            return self._fault_at("lone-surrogate", start, end, "escape")
        return self._syntax("escape", start, end)

    def _second_colon(self) -> Fault:
        """A colon where none can be: inside text, or on a line that continues the line above."""
        row = self.lines.line(self.line)
        before = _KEY_BEFORE.match(row[: 2 * _LONGEST_KEY])
        if before and before.end() <= self.column:
            start = self.index - self.column + before.end()
            return self._fault_at("colon-in-words", start, self._row_end(start))
        if self.column > _LONGEST_KEY:
            return self._no_colon(self.line)
        rows = range(self.line - 1, max(self.line - _LINES_ABOVE, 0), -1)
        above = next((line for line in rows if _has_content(self.lines.line(line))), self.line)
        if _NO_SPACE.fullmatch(self.lines.line(above)) or ":" not in self.lines.line(above):
            return self._no_colon(above)
        return self._indentation()

    def _no_colon(self, line: int) -> Fault:
        row = self.lines.line(line)
        place = self.lines.whole_line(line)
        found = shortened(row.strip())
        if match := _NO_SPACE.fullmatch(row):
            key, value = match.group("key"), match.group("value")
            meant = f"{key}: {value.strip()}" if key else f"- {match.group('entry').strip()}"
            return Fault("space-missing", found=found, expected=(meant,), place=place)
        start = self.lines.index(line, place.column)
        if (colon := row.find(":")) > _LONGEST_KEY:
            return self._syntax("long-key", start, start + len(row[:colon].strip()))
        quote = next((sign for sign in "\"'" if row.count(sign) % 2), "")
        if quote and row.lstrip(" -").startswith(quote):
            return self._open_quote(self.clean.index(quote, start))
        return self._syntax("colon", start, self._row_end(start))

    def _colon_in_brackets(self) -> Fault:
        """A colon directly followed by a bracket or a comma, inside brackets."""
        end = self.index + 2
        meant = f"{self.clean[self.began : end - 1]} {self.clean[end - 1 : end]}"
        return self._fault_at("space-missing", self.began, end, meant)

    def _in_brackets(self) -> Fault:
        """Something other than a comma or the closing bracket."""
        sign = self.clean[self.index : self.index + 1]
        opening = self.brackets[-1] if self.brackets else self.began
        row = self.lines.place(opening, opening).line
        outer = _ENTRY_START.match(self.lines.line(row))
        ended = self.index >= len(self.clean.rstrip()) or (
            self.line > row and indent(self.lines.line(self.line)) <= (outer.end() if outer else 0)
        )
        if ended:
            return self._fault_at("bracket-not-paired", opening, self._row_end(opening), self.clean[opening])
        if sign in "]}":
            start = opening if self.line == row else self.index
            return self._fault_at("bracket-not-paired", start, self.index + 1, self.clean[opening])
        if sign == ",":
            return self._syntax("comma", self.index, self.index + 1)
        if sign == ":" and self.scalar is not None and self.scalar.style not in ("'", '"'):
            return self._fault_at("comma-missing", *event_span(self.scalar))
        return self._fault_at("comma-missing", self.index, self._entry_end(self.index))

    def _sign(self, start: int) -> Fault:
        before = self.clean[self.clean.rfind("\n", 0, start) + 1 : start]
        inside = sum(map(before.count, "[{")) > sum(map(before.count, "]}"))  # the parser may have no event for it yet
        end = self._entry_end(start) if inside or self.brackets else self._row_end(start)
        return self._fault_at("sign-needs-quotes", start, end)

    def _block(self) -> Fault:
        """Something other than the next key or entry."""
        sign = self.clean[self.index : self.index + 1]
        before = self.clean[: self.index].rstrip(" ")[-1:]
        if sign and sign in "]}":
            return self._fault_at("bracket-not-paired", self.index, self.index + 1, "")
        if before and before in "]}":
            return self._syntax("after-bracket", self.index)
        if "node content" in self.problem and sign == ",":
            return self._sign(self.index)
        if sign == ":" or (sign == "-" and self.column == self.began_column):
            return self._syntax("key" if sign == ":" else "entry", self.index)
        if self.line > self.began_line and self.column == indent(self.lines.line(self.line)):
            return self._indentation()
        return self._syntax("other", self.index)

    def _indentation(self) -> Fault:
        """A line indented unlike any line above; the fault offers the nearest indentations to either side."""
        row = self.lines.line(self.line)
        here, entry = indent(row), row.lstrip().startswith("- ")
        columns = set[int]()
        for line in range(self.line - 1, max(self.line - _LINES_ABOVE, 0), -1):
            above = self.lines.line(line)
            if _has_content(above):
                start = _ENTRY_START.match(above)
                columns.add(indent(above) if entry or start is None else start.end())
                if not indent(above):
                    break
        left = max((column for column in columns if column < here), default=-1)
        right = min((column for column in columns if column > here), default=-1)
        expected = tuple(str(column) for column in (left, right) if column >= 0)
        return Fault("bad-indentation", found=str(here), expected=expected, place=self.lines.whole_line(self.line))

    def _syntax(self, kind: str, start: int, end: int | None = None) -> Fault:
        fault = self._fault_at("syntax", start, self._row_end(start) if end is None else end, kind)
        return Fault("syntax", found=fault.found, expected=(kind, self.problem), place=fault.place)

    def _fault_at(self, rule: str, start: int, end: int, *expected: str) -> Fault:
        end = max(end, min(start + 1, len(self.clean)))
        return Fault(
            rule, found=shortened(self.clean[start:end]), expected=expected, place=self.lines.place(start, end)
        )

    def _row_end(self, start: int) -> int:
        """The index after the last character of the line, leaving out its comment."""
        end = self.clean.find("\n", start)
        row = self.clean[start:] if end < 0 else self.clean[start:end]
        quoted = row[:1] in ("'", '"')
        comment = -1 if quoted else row.find(" #")
        return start + len((row if comment < 0 else row[:comment]).rstrip())

    def _entry_end(self, start: int) -> int:
        """The index after an entry inside brackets, or after the line if the entry has brackets itself."""
        row_end = self._row_end(start)
        if self.clean[start] in "[{":
            return row_end
        match = re.compile(r"[^,\]}]*").match(self.clean, start, row_end)
        return start + len(match.group().rstrip()) if match else row_end

    def _word_end(self, start: int) -> int:
        return start + len(re.split(r"[\s,\]}]", self.clean[start : start + 200], maxsplit=1)[0])


def _parsed_before(clean: str) -> tuple[list[int], yaml.ScalarEvent | None]:
    """What the parser had read before the error: the brackets still open, and the last scalar."""
    opened: list[int] = []
    scalar = None
    try:
        for event in yaml.parse(clean, Loader=yaml.CBaseLoader):
            if isinstance(event, yaml.ScalarEvent):
                scalar = event
            elif isinstance(event, yaml.CollectionStartEvent):
                opened.append(event_span(event)[0] if event.flow_style else -1)
            elif isinstance(event, yaml.CollectionEndEvent):
                opened.pop()
    except yaml.YAMLError:
        pass
    return [start for start in opened if start >= 0 and clean[start] in "[{"], scalar


def _has_content(row: str) -> bool:
    bare = row.strip()
    return bare != "" and not bare.startswith("#")
