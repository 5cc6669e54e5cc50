"""Mechanics who slip: each in one way, at places that the seed draws."""

from __future__ import annotations

from tests.walk.book import page
from tests.walk.engine import MAXIMUM
from tests.walk.mechanic import GaveUp, Mechanic
from tests.walk.phone import Hand

CAREFUL = "careful"


class Skips(Mechanic):
    """Skips steps where a screen offers it."""

    def works_step(self) -> None:
        link = next((one for one in self.screen.all("link") if one["words"] == "Skip"), None)
        if link and self.chance.random() < 0.3:
            self.circles("skipped")
            return self.do(("follow", link["to"]))
        return super().works_step()


class MistypesSide(Mechanic):
    """Chooses the other side of top dead centre, once at the maximum."""

    slipped = False

    def eye(self, figure: str, value: float) -> float:
        if figure == MAXIMUM and not self.slipped and self.chance.random() < 0.5:
            self.slipped = True
            return -value
        return value


class MisreadsOnce(Mechanic):
    """Reads a mark too few once at the maximum: later than it is."""

    slipped = False

    def eye(self, figure: str, value: float) -> float:
        if figure == MAXIMUM and not self.slipped and self.chance.random() < 0.4:
            self.slipped = True
            return value - self.chance.choice([2, 5, 9])
        return value


class MisreadsAlways(Mechanic):
    """Takes one mark for another at every reading: nothing on the phone can tell."""

    def eye(self, figure: str, value: float) -> float:
        return value - 2 if figure == MAXIMUM else value


class ShownLate(Mechanic):
    """Overlooks at first what makes the light show everything late: its dial, its clip, its battery, the lever."""

    shown_late = True

    def opens(self) -> str:
        late = self.chance.choice([2, 3, 4.5])
        self.engine.late[self.chance.choice(["dial", "clip", "supply", "lever", "mark"])] = late
        return super().opens()


class MovesPointer(Mechanic):
    """Moves the pointer to 0 after the dead-centre reading and says that it stays: nothing on the phone can tell."""

    def works_step(self) -> None:
        if self.screen.step == "maximum":
            self.engine.pointer = 0.0
        super().works_step()


class TurnsWrongWay(Mechanic):
    """Turns the screw the other way once, and types what was advised."""

    slipped = False

    def hand(self, figure: str, inward: float) -> float:
        if figure == MAXIMUM and not self.slipped and self.chance.random() < 0.5:
            self.slipped = True
            return -inward
        return inward


class SettlesUnlocked(Mechanic):
    """Notes the reading with the nut slack as left, and tightens it after."""

    def lock_first(self) -> bool:
        return False


class LocksUnread(SettlesUnlocked):
    """Tightens the nut when the screw is on target, and goes on without another reading unless one is asked for."""

    def locks(self, figure: str) -> None:
        if figure == MAXIMUM and self.screen.step not in self._done:
            self.engine.screws[figure].lock()
        else:
            Mechanic.locks(self, figure)

    def lock_first(self) -> bool:
        return True


class ForgetsStop(Mechanic):
    """Leaves the piston stop in its hole until a line to tick names it."""

    def puts_stop_away(self) -> None:
        self.stand.stop_in = True


class WrongTwin(Mechanic):
    """Begins the job of another engine that is called the same."""

    def opens(self) -> str:
        twins = page(self.engine.family).get("twins")
        return str(twins["others"][0]["id"]) if twins else super().opens()


class ChangesLate(Mechanic):
    """Goes back to an early step late, does it again, and goes on where the phone then leads."""

    returned = False

    def works_step(self) -> None:
        late = self.screen.step == "before-plugs"
        if late and not self.returned and self.stand.live:
            self.returned = True
            job = self.screen.route.partition("/")[0]
            back = self.chance.choice(["dead-centre", "maximum", "pickup"])
            self.do(("follow", f"#{job}/{back}"))
            again = self.screen.find("done")
            if self.screen.step == back and again and not again["shut"]:
                self.engine.screws[MAXIMUM].turn(self.chance.choice([-0.5, 0.5]) if back == "maximum" else 0)
                return self.do(("tap", "done"))
            return None
        return super().works_step()


class Reloads(Mechanic):
    """Loads the page anew, now and then with digits half typed."""

    def works_step(self) -> None:
        if self.chance.random() < 0.15:
            if self.screen.find("reading"):
                self.do(("type", "reading", "1"))
            self.tell("    the page is loaded anew")
            self.see(self.phone.open(self.screen.route))
        super().works_step()


class TwoTabs(Mechanic):
    """Has the job open twice, and goes on now in the one, now in the other."""

    other = False

    def works_step(self) -> None:
        if self.chance.random() < 0.2:
            tab = 0 if self.other else 1
            self.tell(f"    in tab {tab}")
            self.other = not self.other
            self.tab = tab
            self.see(self.phone.open(self.screen.route, tab))
        super().works_step()


class LeavesIt(Mechanic):
    """Turns nothing at the maximum, and opens a shut gate by an override where one is offered."""

    def turns(self, figure: str, said: str) -> bool | None:
        return None if figure == MAXIMUM else super().turns(figure, said)

    def again(self, figure: str) -> bool:
        return figure != MAXIMUM and super().again(figure)

    def shut(self, why: str) -> None:
        if self.screen.find("override"):
            hands: tuple[Hand, ...] = (("type", "override", "left so for now"), ("tap", "keep-override"))
            return self.do(*hands)
        if "Set it again" in why:
            link = next((one for one in self.screen.all("link") if one["words"] == "Skip"), None)
            if link:
                self.circles(why)
                return self.do(("follow", link["to"]))
        return super().shut(why)


class GivesUp(Mechanic):
    """Leaves the job somewhere."""

    def works_step(self) -> None:
        if self.chance.random() < 0.05:
            raise GaveUp("enough for today")
        super().works_step()


MECHANICS: dict[str, type[Mechanic]] = {
    CAREFUL: Mechanic,
    "skips": Skips,
    "mistypes-side": MistypesSide,
    "misreads-once": MisreadsOnce,
    "misreads-always": MisreadsAlways,
    "shown-late": ShownLate,
    "moves-pointer": MovesPointer,
    "turns-wrong-way": TurnsWrongWay,
    "settles-unlocked": SettlesUnlocked,
    "locks-unread": LocksUnread,
    "forgets-stop": ForgetsStop,
    "wrong-twin": WrongTwin,
    "changes-late": ChangesLate,
    "reloads": Reloads,
    "two-tabs": TwoTabs,
    "leaves-it": LeavesIt,
    "gives-up": GivesUp,
}
UNSEEN = frozenset({"misreads-always", "moves-pointer", "settles-unlocked"})
"""Slips that no later reading can show: they are counted and printed."""
