"""Updating the cached results of a folder: only what has changed, and what depends on it, is checked again.

A file is checked again if its bytes have changed, or something that it looked up in the context. A rule that reads the
files of a maker, or all files, runs again if one of its facts has changed, or something that it looked up, or a file
that it has a finding in. Everything else is taken from the cache. The result is that of a check without a cache.
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
from kb.intake.check.kept.changed_files import FINAL, FolderChanges
from kb.intake.check.kept.changed_files import parts as known_parts
from kb.intake.check.kept.finding_rows import Row, from_rows, packed, to_row
from kb.intake.check.kept.tables import Tables, bucket
from kb.intake.check.one_file import ParsedFile, check_parsed_file, parse_file
from kb.intake.check.parallel import Progress, StoredResult, check_all, to_stored
from kb.intake.check.tracked_context import ContextChanges, Families, Needs, TrackedContext
from kb.intake.check.whole_book import apply_exceptions, group_of, run_multi_file_rule, sorted_findings
from kb.intake.facts.accepted import AcceptedFinding
from kb.intake.facts.rule_context import REFERENCE_KINDS, RuleContext
from kb.intake.rules import Rule, multi_file_rules, restore_rule_scopes, rule_scopes

_REFERENCES, _RUNS, _SCOPES = "references", "runs", "scopes"

Document = Mapping[str, Any]


class IncrementalCheck:
    """One check of a folder, from the marks of its files and what the cache kept of the last check."""

    def __init__(self, folder: Path, cache: Cache, marked: Marked, since: FolderChanges) -> None:
        self._folder, self._cache, self._marked = folder, cache, marked
        self._read = partial(read_file, folder)
        self._known, self._digests, self._changed, self._gone = since
        self._tables = Tables(cache)
        self._runs: dict[str, dict[str, tuple[Needs, list[Row]]]] = {}
        self._stale: set[tuple[str, str]] = set()
        self._touched = set(self._gone)

    def run(self, jobs: int | None, progress: Progress | None) -> list[Finding]:
        """Every finding, sorted; writes everything that the next check needs into the cache."""
        parts = self._cache.read((FINAL, _REFERENCES, _RUNS, _SCOPES))
        if _SCOPES in parts:
            restore_rule_scopes(json.loads(parts[_SCOPES]))
        before: list[Row] = json.loads(parts.get(FINAL, b"[]"))
        documents: dict[str, Document] = json.loads(parts.get(_REFERENCES, b"{}"))
        self._runs = json.loads(parts.get(_RUNS, b"{}"))
        old_documents, (documents, parsed) = documents, self._open_references(documents)
        context = _make_context(documents, self._marked.files)
        same = not parsed and documents.keys() == old_documents.keys() and self._known == self._marked.files
        changes = ContextChanges(context if same else _make_context(old_documents, self._known), context)
        tracked = TrackedContext(context)
        affected = self._affected(changes)
        for file, (raw, found) in parsed.items():
            self._store(to_stored(file, raw, check_parsed_file(file, found, tracked), tracked))
        rest = sorted(affected - parsed.keys())
        for result in check_all(self._folder, rest, tracked, context, jobs, progress):
            self._store(result)
        for file in self._gone:
            self._drop(file)
        self._run_multi_file_rules(tracked, changes, affected)
        findings = self._all_findings(before)
        final = packed([to_row(found) for found in findings])
        self._write_cache(
            {FINAL: final, _REFERENCES: packed(documents), _RUNS: packed(self._runs), _SCOPES: packed(rule_scopes())}
        )
        return findings

    def _open_references(
        self, documents: Mapping[str, Document]
    ) -> tuple[dict[str, Document], dict[str, tuple[bytes, ParsedFile]]]:
        """The documents of the context, in order of file, and the files that were parsed for it."""
        changed = set(self._changed)
        parsed: dict[str, tuple[bytes, ParsedFile]] = {}
        documents_now: dict[str, Document] = {}
        for file in self._marked.files:
            if file in documents and file not in changed:
                documents_now[file] = documents[file]
            elif file in changed and (kind := kind_and_id(file)) and kind[0] in REFERENCE_KINDS:
                raw = self._read(file)
                parsed[file] = raw, parse_file(file, raw)
                documents_now[file] = parsed[file][1].document
        return documents_now, parsed

    def _affected(self, changes: ContextChanges) -> set[str]:
        """The files to check: the changed ones, and those that looked up what has changed."""
        affected = set(self._changed)
        if not self._known or not changes:
            return affected
        present = set(self._marked.files)
        names = self._tables.names("files/")
        self._tables.load(names)
        for name in names:
            for file, columns in self._tables.table(name).items():
                needs: Needs = json.loads(columns.partition("\t")[0])
                if file in present and changes.touches(needs):
                    affected.add(file)
        return affected

    def _store(self, result: StoredResult) -> None:
        """Store the result of a file; its facts may make runs of multi-file rules stale."""
        file = result.file
        self._touched.add(file)
        self._digests[file] = result.digest
        columns = f"{result.needs}\t{result.findings}\t{result.exemptions}"
        self._tables.put(f"files/{bucket(file)}", file, columns)
        self._store_facts(file, result.facts)

    def _drop(self, file: str) -> None:
        self._tables.drop(f"files/{bucket(file)}", file)
        self._store_facts(file, {})

    def _store_facts(self, file: str, facts: Mapping[str, str]) -> None:
        kind = kind_and_id(file)
        for rule in multi_file_rules():
            if kind is None or rule.extract_facts is None or kind[0] not in rule.kinds:
                continue
            name, fact = _facts_table(rule, file), facts.get(rule.id)
            if self._tables.table(name).get(file) == fact:
                continue
            self._stale.add((rule.id, group_of(rule, file)))
            if fact is None:
                self._tables.drop(name, file)
            else:
                self._tables.put(name, file, fact)

    def _run_multi_file_rules(self, context: TrackedContext, changes: ContextChanges, affected: set[str]) -> None:
        """Run the stale multi-file rules again; files that gain or lose findings by it count as touched."""
        fresh = affected | set(self._gone)
        for rule in multi_file_rules():
            runs = self._runs.setdefault(rule.id, {})
            if rule.reads == "book" and not runs:
                self._stale.add((rule.id, ""))
            for group, (needs, rows) in runs.items():
                if changes.touches(needs) or any(row[0] in fresh for row in rows):
                    self._stale.add((rule.id, group))
            for group in sorted(group for stale, group in self._stale if stale == rule.id):
                _, rows = runs.pop(group, ({}, []))
                facts = self._facts(rule, group)
                if facts or rule.reads == "book":
                    found = [to_row(finding) for finding in run_multi_file_rule(rule, facts, context, self._read)]
                    runs[group] = context.take_needs(), found
                    rows = [*rows, *found]
                self._touched.update(row[0] for row in rows)

    def _facts(self, rule: Rule, group: str) -> dict[str, Any]:
        """The facts for one run of a multi-file rule, in order of file."""
        names = {f"facts/{rule.id}/{group}"} if rule.reads == "maker" else self._tables.names(f"facts/{rule.id}/")
        self._tables.load(names)
        texts = {file: fact for name in names for file, fact in self._tables.table(name).items()}
        files = sorted(texts)
        return dict(zip(files, json.loads(f"[{','.join(texts[file] for file in files)}]"), strict=True))

    def _all_findings(self, before: Iterable[Row]) -> list[Finding]:
        """All findings to report: those of untouched files as before, those of the others put together again."""
        findings = from_rows(row for row in before if row[0] not in self._touched)
        wide: dict[str, list[Row]] = {}
        for rule in multi_file_rules():
            for group in sorted(runs := self._runs[rule.id]):
                for row in runs[group][1]:
                    wide.setdefault(row[0], []).append(row)
        for file in sorted(self._touched - set(self._gone)):
            _, own, exemptions = self._tables.table(f"files/{bucket(file)}")[file].split("\t")
            found = from_rows([*json.loads(own), *wide.get(file, ())])
            findings.extend(apply_exceptions(file, found, [_exemption(row) for row in json.loads(exemptions)]))
        return sorted_findings(findings)

    def _write_cache(self, parts: Mapping[str, bytes]) -> None:
        written, emptied = self._tables.changes()
        self._cache.replace({**known_parts(self._marked, self._digests), **parts, **written}, emptied)


def _make_context(documents: Mapping[str, Document], files: Iterable[str]) -> RuleContext:
    """The context of these documents, given by file."""
    names = frozenset(files)
    by_kind = {kind: document for file, document in documents.items() if (kind := kind_and_id(file))}
    return RuleContext.from_documents(by_kind, Families(names), names)


def _facts_table(rule: Rule, file: str) -> str:
    return f"facts/{rule.id}/{group_of(rule, file) if rule.reads == 'maker' else bucket(file)}"


def _exemption(row: Any) -> AcceptedFinding:
    rule, covers, path, place, line_text = row
    return AcceptedFinding(rule, tuple(map(tuple, covers)), tuple(path), Place(*place), line_text)
