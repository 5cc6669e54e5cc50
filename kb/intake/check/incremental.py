"""Bringing the kept results of a folder up to date: what has changed is examined again, and what that touches.

A file is examined again when its bytes have changed, or when something that it looked up on the desk has. A rule that
reads the files of a maker, or all files, runs again when one of the facts that it reads has changed, when something
that it looked up has, or when a file that it found something in has. All else stays as it was kept, and the outcome is
that of a check from nothing.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from kb.finding import Finding, Place
from kb.intake.check.file_kinds import kind_and_id
from kb.intake.check.folder import Marked, read_file
from kb.intake.check.kept.cache_file import Cache
from kb.intake.check.kept.changed_files import FINAL, Since
from kb.intake.check.kept.changed_files import parts as known_parts
from kb.intake.check.kept.finding_rows import Row, from_rows, packed, to_row
from kb.intake.check.kept.tables import Tables, bucket
from kb.intake.check.one_file import Opened, examine_opened, open_file
from kb.intake.check.parallel import Outcome, Progress, as_outcome, examine_all
from kb.intake.check.tracked_context import Families, Moved, Needs, TrackedContext
from kb.intake.check.whole_book import group_of, in_order, run_wide, settle
from kb.intake.facts.accepted import AcceptedFinding
from kb.intake.facts.rule_context import REFERENCE_KINDS, RuleContext
from kb.intake.rules import Rule, remember, roll, wide_rules

_DESK, _WIDE, _ROLL = "desk", "wide", "roll"

Document = Mapping[str, Any]


class Renewal:
    """One run over a folder whose files bear these marks, from what the cache kept of the last one."""

    def __init__(self, folder: Path, cache: Cache, marked: Marked, since: Since) -> None:
        self._folder, self._cache, self._marked = folder, cache, marked
        self._read = partial(read_file, folder)
        self._known, self._digests, self._changed, self._gone = since
        self._tables = Tables(cache)
        self._wide: dict[str, dict[str, tuple[Needs, list[Row]]]] = {}
        self._stale: set[tuple[str, str]] = set()
        self._touched = set(self._gone)

    def run(self, jobs: int | None, progress: Progress | None) -> list[Finding]:
        """Every finding, sorted; and everything kept for the next run."""
        parts = self._cache.read((FINAL, _DESK, _WIDE, _ROLL))
        if _ROLL in parts:
            remember(json.loads(parts[_ROLL]))
        before: list[Row] = json.loads(parts.get(FINAL, b"[]"))
        documents: dict[str, Document] = json.loads(parts.get(_DESK, b"{}"))
        self._wide = json.loads(parts.get(_WIDE, b"{}"))
        old_documents, (documents, opened) = documents, self._open_references(documents)
        desk = _lay(documents, self._marked.files)
        same = not opened and documents.keys() == old_documents.keys() and self._known == self._marked.files
        moved = Moved(desk if same else _lay(old_documents, self._known), desk)
        watched = TrackedContext(desk)
        affected = self._affected(moved)
        for file, (raw, found) in opened.items():
            self._take(as_outcome(file, raw, examine_opened(file, found, watched), watched))
        rest = sorted(affected - opened.keys())
        for outcome in examine_all(self._folder, rest, watched, desk, jobs, progress):
            self._take(outcome)
        for file in self._gone:
            self._forget(file)
        self._run_wide_rules(watched, moved, affected)
        findings = self._conclude(before)
        final = packed([to_row(found) for found in findings])
        self._keep({FINAL: final, _DESK: packed(documents), _WIDE: packed(self._wide), _ROLL: packed(roll())})
        return findings

    def _open_references(
        self, documents: Mapping[str, Document]
    ) -> tuple[dict[str, Document], dict[str, tuple[bytes, Opened]]]:
        """The documents that lie on the desk now, in order of file, and the files that were opened for it."""
        changed = set(self._changed)
        opened: dict[str, tuple[bytes, Opened]] = {}
        now: dict[str, Document] = {}
        for file in self._marked.files:
            if file in documents and file not in changed:
                now[file] = documents[file]
            elif file in changed and (kind := kind_and_id(file)) and kind[0] in REFERENCE_KINDS:
                raw = self._read(file)
                opened[file] = raw, open_file(file, raw)
                now[file] = opened[file][1].document
        return now, opened

    def _affected(self, moved: Moved) -> set[str]:
        """The files to examine: the changed ones, and those that looked up what has moved."""
        affected = set(self._changed)
        if not self._known or not moved:
            return affected
        there = set(self._marked.files)
        names = self._tables.names("files/")
        self._tables.load(names)
        for name in names:
            for file, columns in self._tables.table(name).items():
                needs: Needs = json.loads(columns.partition("\t")[0])
                if file in there and moved.touches(needs):
                    affected.add(file)
        return affected

    def _take(self, outcome: Outcome) -> None:
        """Keep what examining a file came to; its facts may make runs of wider rules stale."""
        file = outcome.file
        self._touched.add(file)
        self._digests[file] = outcome.digest
        columns = f"{outcome.needs}\t{outcome.findings}\t{outcome.exemptions}"
        self._tables.put(f"files/{bucket(file)}", file, columns)
        self._take_facts(file, outcome.facts)

    def _forget(self, file: str) -> None:
        self._tables.drop(f"files/{bucket(file)}", file)
        self._take_facts(file, {})

    def _take_facts(self, file: str, facts: Mapping[str, str]) -> None:
        kind = kind_and_id(file)
        for rule in wide_rules():
            if kind is None or rule.gather is None or kind[0] not in rule.kinds:
                continue
            name, fact = _facts_table(rule, file), facts.get(rule.id)
            if self._tables.table(name).get(file) == fact:
                continue
            self._stale.add((rule.id, group_of(rule, file)))
            if fact is None:
                self._tables.drop(name, file)
            else:
                self._tables.put(name, file, fact)

    def _run_wide_rules(self, desk: TrackedContext, moved: Moved, affected: set[str]) -> None:
        """Run again what is stale; the files that this adds findings to or takes them from are touched."""
        fresh = affected | set(self._gone)
        for rule in wide_rules():
            runs = self._wide.setdefault(rule.id, {})
            if rule.reads == "book" and not runs:
                self._stale.add((rule.id, ""))
            for group, (needs, rows) in runs.items():
                if moved.touches(needs) or any(row[0] in fresh for row in rows):
                    self._stale.add((rule.id, group))
            for group in sorted(group for stale, group in self._stale if stale == rule.id):
                _, rows = runs.pop(group, ({}, []))
                facts = self._facts(rule, group)
                if facts or rule.reads == "book":
                    found = [to_row(finding) for finding in run_wide(rule, facts, desk, self._read)]
                    runs[group] = desk.take_needs(), found
                    rows = [*rows, *found]
                self._touched.update(row[0] for row in rows)

    def _facts(self, rule: Rule, group: str) -> dict[str, Any]:
        """The facts of one run of a wider rule, in order of file."""
        names = {f"facts/{rule.id}/{group}"} if rule.reads == "maker" else self._tables.names(f"facts/{rule.id}/")
        self._tables.load(names)
        texts = {file: fact for name in names for file, fact in self._tables.table(name).items()}
        files = sorted(texts)
        return dict(zip(files, json.loads(f"[{','.join(texts[file] for file in files)}]"), strict=True))

    def _conclude(self, before: Iterable[Row]) -> list[Finding]:
        """The findings as they are to be reported: those of untouched files as before, the others made up again."""
        findings = from_rows(row for row in before if row[0] not in self._touched)
        wide: dict[str, list[Row]] = {}
        for rule in wide_rules():
            for group in sorted(runs := self._wide[rule.id]):
                for row in runs[group][1]:
                    wide.setdefault(row[0], []).append(row)
        for file in sorted(self._touched - set(self._gone)):
            _, own, exemptions = self._tables.table(f"files/{bucket(file)}")[file].split("\t")
            found = from_rows([*json.loads(own), *wide.get(file, ())])
            findings.extend(settle(file, found, [_exemption(row) for row in json.loads(exemptions)]))
        return in_order(findings)

    def _keep(self, parts: Mapping[str, bytes]) -> None:
        written, emptied = self._tables.changes()
        self._cache.replace({**known_parts(self._marked, self._digests), **parts, **written}, emptied)


def _lay(documents: Mapping[str, Document], files: Iterable[str]) -> RuleContext:
    """The desk of these documents by file."""
    names = frozenset(files)
    by_kind = {kind: document for file, document in documents.items() if (kind := kind_and_id(file))}
    return RuleContext.lay(by_kind, Families(names), names)


def _facts_table(rule: Rule, file: str) -> str:
    return f"facts/{rule.id}/{group_of(rule, file) if rule.reads == 'maker' else bucket(file)}"


def _exemption(row: Any) -> AcceptedFinding:
    rule, covers, path, place, line_text = row
    return AcceptedFinding(rule, tuple(map(tuple, covers)), tuple(path), Place(*place), line_text)
