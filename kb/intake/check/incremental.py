"""Updating the cached results of a folder: only what has changed, and what depends on it, is checked again.

A file is checked again if its bytes have changed, or something that it looked up in the context. A rule that reads the
files of a maker, or all files, runs again if one of its facts has changed, or something that it looked up, or a file
that it has a finding in. Everything else is taken from the cache. The result is that of a check without a cache.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from typing import Any

from kb.finding import Finding, Place, has_failures
from kb.intake.check.failures import without_doubtful
from kb.intake.check.file_kinds import kind_and_id
from kb.intake.check.folder import Marked, read_file
from kb.intake.check.kept.cache_file import Cache
from kb.intake.check.kept.changed_files import FINAL, FolderChanges
from kb.intake.check.kept.changed_files import parts as known_parts
from kb.intake.check.kept.finding_rows import Row, from_rows, packed, to_row
from kb.intake.check.kept.rows import Rows, in_batches
from kb.intake.check.one_file import ParsedFile, check_parsed_file, parse_file
from kb.intake.check.parallel import Progress, StoredResult, check_all, to_stored
from kb.intake.check.tracked_context import ContextChanges, Families, Needs, TrackedContext
from kb.intake.check.whole_book import apply_exceptions, group_of, run_multi_file_rule, sorted_findings
from kb.intake.facts.accepted import AcceptedFinding
from kb.intake.facts.rule_context import REFERENCE_KINDS, RuleContext
from kb.intake.models import KINDS
from kb.intake.rules import Rule, multi_file_rules, restore_rule_scopes, rule_scopes

_REFERENCES, _RUNS, _SCOPES = "references", "runs", "scopes"
_NOTHING, _NO_FACTS = "[]", "{}"

Document = Mapping[str, Any]


class IncrementalCheck:
    """One check of a folder, from the marks of its files and what the cache kept of the last check."""

    def __init__(self, folder: Path, cache: Cache, rows: Rows, marked: Marked, since: FolderChanges) -> None:
        self._folder, self._cache, self._rows, self._marked = folder, cache, rows, marked
        self._read = partial(read_file, folder)
        self._known, self._changed, self._gone = since
        self._runs: dict[str, dict[str, tuple[Needs, list[Row]]]] = {}
        self._stale: set[tuple[str, str]] = set()
        self._touched = set(self._gone)
        self._silent: set[str] = set()

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
        self._store(
            to_stored(file, raw, check_parsed_file(file, found, tracked), tracked, self._cache.keeps)
            for file, (raw, found) in parsed.items()
        )
        rest = sorted(affected - parsed.keys())
        self._store(check_all(self._folder, rest, tracked, context, jobs, progress, self._cache.keeps))
        self._drop_gone_files()
        self._run_multi_file_rules(tracked, changes, affected)
        findings = self._all_findings(before)
        if has_failures(findings):
            return findings  # nothing of a check that has failed is kept
        final = packed([to_row(found) for found in findings])
        parts = {
            FINAL: final,
            _REFERENCES: packed(documents),
            _RUNS: packed(self._runs),
            _SCOPES: packed(rule_scopes()),
        }
        self._rows.write({**known_parts(self._marked), **parts}, self._marked.files)
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
        if self._known and changes:
            present = set(self._marked.files)
            for file, result in self._rows.results(file for file in self._known if file in present):
                if changes.touches(json.loads(result.needs)):
                    affected.add(file)
        return affected

    def _store(self, results: Iterable[StoredResult]) -> None:
        """Store the results of files; their facts may make runs of multi-file rules stale."""
        for batch in in_batches(results):
            before = dict(self._rows.results(file for file, _, _ in batch))
            for file, result, document in batch:
                self._facts_changed(file, before[file].facts if file in before else _NO_FACTS, result.facts)
                self._rows.put(file, result, document)
                self._touched.add(file)
                if result.findings == _NOTHING == result.exemptions:
                    self._silent.add(file)

    def _drop_gone_files(self) -> None:
        for file, result in self._rows.results(self._gone):
            self._facts_changed(file, result.facts, _NO_FACTS)
        for file in self._gone:
            self._rows.drop(file)

    def _facts_changed(self, file: str, before: str, now: str) -> None:
        """Note which runs of multi-file rules are stale, if the facts of a file are not what they were."""
        if before != now:
            old, new = json.loads(before), json.loads(now)
            for rule in multi_file_rules():
                if old.get(rule.id) != new.get(rule.id):
                    self._stale.add((group_of(rule, file), rule.id))

    def _run_multi_file_rules(self, context: TrackedContext, changes: ContextChanges, affected: set[str]) -> None:
        """Run the stale multi-file rules again; files that gain or lose findings by it count as touched."""
        fresh = affected | set(self._gone)
        rules = {rule.id: rule for rule in multi_file_rules()}
        for rule in rules.values():
            runs = self._runs.setdefault(rule.id, {})
            if rule.reads == "book" and not runs:
                self._stale.add(("", rule.id))
            for group, (needs, rows) in runs.items():
                if changes.touches(needs) or any(row[0] in fresh for row in rows):
                    self._stale.add((group, rule.id))
        files = self._files_by_maker()
        for group, of_group in groupby(sorted(self._stale), itemgetter(0)):  # the facts of a maker are read once
            stale = [rules[key] for _, key in of_group]
            facts_of = self._facts(files[group] if group else self._marked.files, stale)
            for rule in stale:
                runs = self._runs[rule.id]
                _, rows = runs.pop(group, ({}, []))
                facts = facts_of[rule.id]
                if facts or (rule.reads == "book" and self._marked.files):
                    found = [to_row(finding) for finding in run_multi_file_rule(rule, facts, context, self._read)]
                    runs[group] = context.take_needs(), found
                    rows = [*rows, *found]
                self._touched.update(row[0] for row in rows)

    def _files_by_maker(self) -> Mapping[str, Sequence[str]]:
        """The files that belong to each maker with a stale run, in order."""
        found: dict[str, list[str]] = {group: [] for group, _ in self._stale}
        for file in self._marked.files if found else ():
            maker = file.split("/", 2)[1] if file.count("/") > 1 else ""
            if maker and maker in found:
                found[maker].append(file)
        return found

    def _facts(self, files: Sequence[str], rules: Sequence[Rule]) -> dict[str, dict[str, Any]]:
        """The facts of these files for each of these rules, in order of file."""
        facts: dict[str, dict[str, Any]] = {rule.id: {} for rule in rules}
        folders = tuple(KINDS[kind].folder for rule in rules if rule.extract_facts for kind in rule.kinds)
        for file, result in self._rows.results(file for file in files if file.startswith(folders)):
            for rule, fact in json.loads(result.facts).items():
                if rule in facts:
                    facts[rule][file] = fact
        return facts

    def _all_findings(self, before: Iterable[Row]) -> list[Finding]:
        """All findings to report: those of untouched files as before, those of the others put together again."""
        findings = from_rows(row for row in before if row[0] not in self._touched)
        wide: dict[str, list[Row]] = {}
        for rule in multi_file_rules():
            for group in sorted(runs := self._runs[rule.id]):
                for row in runs[group][1]:
                    wide.setdefault(row[0], []).append(row)
        speaking = self._touched - set(self._gone) - (self._silent - wide.keys())
        for file, result in self._rows.results(sorted(speaking)):
            found = from_rows([*json.loads(result.findings), *wide.get(file, ())])
            exemptions = [_exemption(row) for row in json.loads(result.exemptions)]
            findings.extend(apply_exceptions(file, found, exemptions))
        return sorted_findings(without_doubtful(findings))


def _make_context(documents: Mapping[str, Document], files: Iterable[str]) -> RuleContext:
    """The context of these documents, given by file."""
    names = frozenset(files)
    by_kind = {kind: document for file, document in documents.items() if (kind := kind_and_id(file))}
    return RuleContext.from_documents(by_kind, Families(names), names)


def _exemption(row: Any) -> AcceptedFinding:
    rule, covers, path, place, line_text = row
    return AcceptedFinding(rule, tuple(map(tuple, covers)), tuple(path), Place(*place), line_text)
