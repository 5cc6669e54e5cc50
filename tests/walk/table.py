"""What many walks came to, as a table."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from statistics import median

from tests.walk.careless import CAREFUL, UNSEEN
from tests.walk.walks import Walked

HEADS = (
    ("mechanic", "<18"),
    ("readings", "<9"),
    ("jobs", ">6"),
    ("finished", ">10"),
    ("override", ">10"),
    ("in window", ">11"),
    ("worst", ">8"),
    ("screens", ">9"),
    ("taps", ">6"),
)


def lines(walks: Sequence[Walked]) -> Iterator[str]:
    """A row for each mechanic, then how those ended that did not finish, then what is wrong, each with its command."""
    groups: dict[tuple[str, bool], list[Walked]] = defaultdict(list)
    for one in walks:
        groups[one.asked.mechanic, one.asked.exact].append(one)
    yield "".join(f"{head:{width}}" for head, width in HEADS)
    for (mechanic, exact), some in sorted(groups.items(), key=lambda group: (group[0][0] != CAREFUL, group[0])):
        finished = [one for one in some if one.judged.finished]
        worst = max((one.judged.early for one in finished if not one.judged.overridden), default=0.0)
        yield (
            f"{mechanic:<18}{'exact' if exact else 'scatter':<9}{len(some):>6}{_share(len(finished), some):>10}"
            f"{_share(sum(one.judged.overridden for one in some), some):>10}"
            f"{_share(sum(one.judged.inside for one in some), some):>11}{worst:>+8.2f}"
            f"{median(one.walk.screens for one in some):>9.0f}{median(one.walk.taps for one in some):>6.0f}"
        )
    yield from ends(one for one in walks if not one.judged.finished and one.asked.mechanic == CAREFUL)
    for one in walks:
        for fault in one.judged.faults:
            known = " (no screen can tell)" if one.asked.mechanic in UNSEEN else ""
            yield f"{fault}{known}: {one.asked.command}"


def ends(walks: Iterable[Walked]) -> Iterator[str]:
    """How careful mechanics did not finish, the most frequent first, each with one command."""
    some: dict[str, Walked] = {}
    count: Counter[str] = Counter()
    for one in walks:
        count[one.walk.ended] += 1
        some.setdefault(one.walk.ended, one)
    for ended, times in count.most_common():
        yield f"not finished, {times} times: {ended}: {some[ended].asked.command}"


def _share(part: int, whole: Sequence[Walked]) -> str:
    return f"{100 * part / len(whole):.1f} %"
