"""Frozen records at the price of a plain class.

Floor 0.

A cold look-up may take five times the CPU time of a bare interpreter. Importing ``dataclasses`` takes one of the five,
and the thirty classes that a look-up needs take two more, since each is written as source text and compiled. Here a
class gets its constructor, equality, hash and representation without that; type checkers see a dataclass.
"""

from __future__ import annotations

from functools import partial
from operator import itemgetter

__all__ = ["cached_property", "record"]

TYPE_CHECKING = False  # as in typing, whose import alone takes a third of a bare start
if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from typing import Any, TypeVar, dataclass_transform

    Class = TypeVar("Class", bound=type)
else:

    def dataclass_transform(**_):
        """Used by type checkers only."""
        return lambda decorator: decorator


if TYPE_CHECKING:
    from functools import cached_property
else:

    class _CachedProperty:
        """``functools.cached_property`` without the lock that it takes before Python 3.12, which costs more than it.

        Two threads may work the same out at the same time; both get the same.
        """

        def __init__(self, work):
            self.work, self.__doc__ = work, work.__doc__

        def __set_name__(self, owner, name):
            self.name = name

        def __get__(self, instance, owner=None):
            if instance is None:
                return self
            value = instance.__dict__[self.name] = self.work(instance)
            return value

    cached_property = _CachedProperty


@dataclass_transform(frozen_default=True)
def record(*, hidden: Sequence[str] = (), aside: Sequence[str] = ()) -> Callable[[Class], Class]:
    """Make a class of annotated fields, after those of the record it extends, a frozen record, as
    ``@dataclass(frozen=True)`` does.

    Fields named in ``hidden`` are not shown in the representation; those in ``aside`` are neither shown nor compared.
    Methods that the class defines itself are kept.
    """

    def make(made: Class) -> Class:
        kinds = reversed(made.__mro__)
        names = tuple(dict.fromkeys(name for kind in kinds for name in getattr(kind, "__annotations__", ())))
        methods = _methods(made, names, {*hidden, *aside}, [name for name in names if name not in aside])
        for name, method in methods.items():
            if name not in made.__dict__:
                setattr(made, name, method)
        return made

    return make


def _methods(
    made: type, names: tuple[str, ...], hidden: set[str], compared: list[str]
) -> dict[str, Callable[..., Any] | tuple[str, ...]]:
    count = len(names)
    defaults = {name: getattr(made, name) for name in names if hasattr(made, name)}
    values = itemgetter(*compared)
    paired = partial(zip, names)  # ``zip`` with ``strict`` said takes twice as long

    def construct(self: Any, *given: Any, **named: Any) -> None:
        held = self.__dict__
        held.update(paired(given))
        if named or len(given) != count:
            complete(held, len(given), named)

    def complete(held: dict[str, Any], given: int, named: dict[str, Any]) -> None:
        strange = [name for name in named if name in held or name not in names]
        missing = [name for name in names if name not in held and name not in named and name not in defaults]
        if given > count or strange or missing:
            what = f"lacks {', '.join(missing)}" if missing else f"takes {', '.join(names)}, each once"
            raise TypeError(f"{made.__name__} {what}")
        held.update({**defaults, **held, **named})

    def equal(self: Any, other: object) -> Any:
        if other.__class__ is not self.__class__:
            return NotImplemented
        return values(self.__dict__) == values(other.__dict__)

    def hashed(self: Any) -> int:
        return hash(values(self.__dict__))

    def shown(self: Any) -> str:
        fields = [f"{name}={self.__dict__[name]!r}" for name in names if name not in hidden]
        return f"{made.__qualname__}({', '.join(fields)})"

    def keep(_: Any, name: str, *__: Any) -> None:
        raise AttributeError(f"{made.__name__} is frozen: {name} stays as it is")

    return {
        "__init__": construct,
        "__eq__": equal,
        "__hash__": hashed,
        "__repr__": shown,
        "__setattr__": keep,
        "__delattr__": keep,
        "__match_args__": names,
    }
