"""A mechanic who does what each screen says, and nothing else: every move comes of what is drawn.

Those of `careless.py` slip: in what the eye sees (`eye`), in what the hand turns (`hand`), in what is left out.
"""

from __future__ import annotations

import random
import re
from collections import Counter
from dataclasses import dataclass, field

from tests.walk.book import limits
from tests.walk.engine import CRANKING, MAXIMUM, RUNNING, Engine
from tests.walk.phone import Hand, Phone, Screen, Thing
from tests.walk.stand import Stand
from tests.walk.words import as_printed, dragged, past, turn_in, typed

FIGURES = ((MAXIMUM, r"maximum"), ("throttle-pickup", r"pickup"), ("idle-timing", r"idle timing"))
"""Figures that are read by the light, and what their headings say."""
BOXES = ("reading", "first", "second", "at-centre", "round")
"""Where a reading is typed."""
NOT_CONDITIONS = ("figure", "when", "nut", "state", "reading-side", "reading-unit", "turned-way", "way")
MOST_SCREENS = 400
MOST_ALIKE = 9
MOST_READINGS = 30


class GaveUp(Exception):
    """Nothing on the screen leads on, or it leads in circles; in words where."""


@dataclass
class Way:
    """What someone chooses where a screen lets them choose."""

    margin: str = "1"
    state: str = ""
    moves_pointer: bool = False
    digits: int = 2


@dataclass
class Walk:
    """A job as it went; ``inside`` are the true angles of figures when the phone last called them inside,
    ``outside`` those that it last called early or late."""

    finished: bool = False
    ended: str = ""
    screens: int = 0
    taps: int = 0
    readings: int = 0
    overridden: bool = False
    aims: list[tuple[str, str, float]] = field(default_factory=list)
    inside: dict[str, float] = field(default_factory=dict)
    outside: set[str] = field(default_factory=set)
    told: list[str] = field(default_factory=list)


class Mechanic:
    """One mechanic at one engine."""

    shown_late = False
    """Whether its light shows everything late at first, which no screen can tell where nothing is made earlier."""

    def __init__(self, phone: Phone, engine: Engine, chance: random.Random, way: Way | None = None) -> None:
        self.phone = phone
        self.engine = engine
        self.chance = chance
        self.way = way or Way()
        self.stand = Stand(engine, chance)
        self.walk = Walk()
        self.screen: Screen
        self.tab = 0
        self.slopes: dict[str, float] = {}
        self._done: set[str] = set()
        self._alike: Counter[tuple[str, str]] = Counter()
        self._read: set[str] = set()

    # -- from the first screen to the last

    def work(self) -> Walk:
        """The whole job."""
        try:
            self.see(self.phone.open(f"new={self.opens()}"))
            while not self.walk.ended:
                if self.walk.screens > MOST_SCREENS:
                    raise GaveUp("the job does not end")
                self.step()
        except GaveUp as reason:
            self.walk.ended = f"gave up at “{self.screen.title}”: {reason}"
        self.walk.taps = self.phone.taps
        return self.walk

    def opens(self) -> str:
        """The family whose job is begun."""
        return self.engine.family

    def see(self, screen: Screen) -> None:
        """What is now on the phone."""
        self.walk.screens += not hasattr(self, "screen") or screen.route != self.screen.route
        self.screen = screen

    def do(self, *hands: Hand) -> None:
        """Hands on the phone; what they did is told."""
        self.tell(f"    {', '.join(' '.join(map(str, hand)) for hand in hands)}")
        self.see(self.phone.do(*hands, tab=self.tab))
        for words in self.screen.look("told"):
            self.tell(f"      “{words}”")

    def tell(self, line: str) -> None:
        self.walk.told.append(line)

    def step(self) -> None:
        """One screen: read it, do what it says, go on."""
        screen = self.screen
        self.tell(f"[{screen.route}] {screen.title}")
        if screen.find("met"):
            return self.do(("tap", "met"))
        if screen.find("take-engine"):
            return self.begin()
        if screen.find("which"):
            return self.tells_which()
        if screen.find("close") or screen.find("anyway") or screen.step == "end":
            return self.ends()
        if not screen.find("done") and not screen.find("stood") and not self.main_link():
            return self.is_barred()
        return self.works_step()

    def begin(self) -> None:
        """The form for the engine."""
        here = (
            self.screen.route == f"new={self.engine.family}"
        )  # the plate of another family's engine says nothing here
        hands: list[Hand] = [("type", "serial", self.engine.serial if here else ""), ("type", "by", "mk")]
        for name, wanted in (("margin", self.way.margin), ("set", self.way.state)):
            choice = self.screen.find(name)
            if choice and wanted in [one["value"] for one in choice["options"]] and (wanted or name == "margin"):
                hands.append(("choose", name, wanted))
        before = self.screen.route
        self.do(*hands, ("tap", "take-engine"))
        if self.screen.route == before:
            raise GaveUp("; ".join(self.screen.look("refused")) or "the form takes nothing")

    def tells_which(self) -> None:
        """As the stamp says."""
        which = self.screen.find("which")
        options = [one["value"] for one in which["options"]] if which else []
        self.do(("choose", "which", self.engine.family if self.engine.family in options else "this"))
        other = next((one for one in self.screen.all("link") if one["to"] == f"#new={self.engine.family}"), None)
        if other:
            self.do(("follow", other["to"]))
        elif self.screen.find("take-which"):
            self.do(("tap", "take-which"))
        else:
            raise GaveUp("the question which engine it is takes no answer")

    def is_barred(self) -> None:
        """A step that may not be opened: to where it says."""
        link = next((one for one in self.screen.all("link") if one["to"].startswith("#") and "/" in one["to"]), None)
        if not link:
            raise GaveUp(f"nothing leads on: {self.screen.words[:200]}")
        self.circles("barred")
        self.do(("follow", link["to"]))

    def circles(self, why: str) -> None:
        self._alike[self.screen.step, why] += 1
        if self._alike[self.screen.step, why] > MOST_ALIKE:
            raise GaveUp(f"it leads in circles: {why}")

    def ends(self) -> None:
        """The end: closed if it may be, else to where it says that something is left."""
        close = self.screen.find("close")
        if close and not close["shut"]:
            self.walk.overridden = "verride" in self.screen.words
            self.do(("tap", "close"))
            self.walk.finished = True
            self.walk.ended = "finished"
            return
        link = next((one for one in self.screen.part("Not finished") if one["kind"] == "link"), None)
        link = link or next(
            (one for one in self.screen.all("link") if "/" in one["to"] and not one["to"].endswith("/steps")), None
        )
        if not link:
            raise GaveUp(f"not finished, and nothing leads on: {self.screen.words[:200]}")
        self.circles("not finished")
        self.tell(f"    not finished: {self.screen.words[:160]!r}")
        self.do(("follow", link["to"]))

    # -- one step

    @property
    def instruction(self) -> str:
        """What the step says to do."""
        return " ".join(self.screen.look("do"))

    def main_link(self) -> Thing | None:
        return next((one for one in self.screen.all("link") if "main-key" in one["look"]), None)

    def works_step(self) -> None:
        """Follow the words, answer what is asked, read what is to be read, tick, and go on."""
        if self.screen.find("met"):
            return self.do(("tap", "met"))
        words = self.instruction
        self.tell(f"    do: {words}")
        self.stand.follow(words)
        if "ten degrees later than the running" in words:
            self.goes_late()
        self.dead_centre()
        self.reads()
        self.ticks()
        return self.goes_on()

    def ticks(self) -> None:
        """Each line with one's eyes on the thing itself; what is not so is put right."""
        hands: list[Hand] = []
        for tick in self.screen.all("tick"):
            if not tick["on"]:
                self.stand.follow(tick["words"])
                if "piston stop" in tick["words"]:
                    self.stand.stop_in = False
                if "without pull" in tick["words"]:
                    self.engine.cable_pull = 0.0
                hands.append(("tick", tick["id"], True))
        if hands:
            self.do(*hands)

    def goes_on(self) -> None:
        """By the key that says that it is done; if it is shut, by what it says."""
        moved = self.screen.step in self._read
        stood = self.screen.find("stood")
        done = self.screen.find("done")
        key = stood if stood and not moved else done
        if not key:
            link = self.main_link()
            if not link:
                raise GaveUp("no key leads on")
            self.circles("already done")
            return self.do(("follow", link["to"]))
        if not key["shut"]:
            self._read.discard(self.screen.step)
            self.circles("done")
            return self.do(("tap", key["id"]))
        return self.shut(key["words"])

    def shut(self, why: str) -> None:
        """A key that is shut says why."""
        self.tell(f"    shut: {why}")
        self.circles(why)
        if why.startswith("Keep or clear"):
            boxes = [one["id"] for one in self.screen.all("field", folded=True) if one["value"] and one["id"] in BOXES]
            return self.do(*(("type", box, "") for box in boxes))
        link = next(
            (one for one in self.screen.all("link") if "stale" in one["words"] or "check again" in one["words"]), None
        )
        held = next(
            (one for one in self.screen.part("Figures that keep this gate shut") if one["kind"] == "link"), None
        )
        link = held or link
        if link:
            return self.do(("follow", link["to"]))
        if why.endswith("see what it reads") and self.figure() and self.again(self.figure()):
            return self.locks(self.figure())
        if "left" in why or "tight" in why or "ead it again" in why or "et it again" in why:
            return self.reads(needed=True)
        if "every cylinder" in why and self.figure():
            return self.reads_each(self.figure())
        raise GaveUp(why)

    def reads_each(self, figure: str) -> None:
        """The same figure at every cylinder, locked as it is."""
        choice = self.screen.find("cylinder")
        for number in [one["value"] for one in choice["options"] if one["value"]] if choice else ():
            self.do(("choose", "cylinder", number))
            self.takes("left", figure)

    # -- the pointer

    def dead_centre(self) -> None:
        """Both contacts where they are asked for; and what becomes of the pointer."""
        for _ in range(6):
            stays, moved = self.screen.find("pointer-stays"), self.screen.find("pointer-moved")
            fields = self.screen.find("first")
            if stays or (moved and not fields):
                if self.way.moves_pointer and abs(self.engine.pointer) > 0 and moved:
                    self.engine.pointer = 0.0
                    self.do(("tap", "pointer-moved"))
                    continue
                if stays:
                    self.do(("tap", "pointer-stays"))
                return
            if not fields or not self.needs_centre():
                return
            self.contacts()

    def needs_centre(self) -> bool:
        done = self.screen.find("done")
        return bool(done and done["shut"] and re.search(r"dead-centre|contacts", done["words"]))

    def contacts(self) -> None:
        """Turn gently to the one contact and to the other, and read the pointer at both."""
        self.stand.stop_in = True
        read = dict(zip(("first", "second"), self.engine.contacts(self.chance), strict=True))
        by_tape = any(not self.reaches(value) for value in read.values())
        hands: list[Hand] = []
        if by_tape and self.screen.find("way"):
            self.do(("choose", "way", "tape"))
            per_degree = self.engine.round_mm / 360
            if self.screen.find("round"):
                hands.append(("type", "round", f"{self.engine.round_mm:.2f}"))
            read = {box: value * per_degree for box, value in read.items()}
        for box, value in read.items():
            text, side = typed(value, self.way.digits)
            hands += [("type", box, text), *self.side(f"{box}-side", side)]
        self.do(*hands, ("tap", "store"))
        self.walk.readings += 1
        self.puts_stop_away()

    def puts_stop_away(self) -> None:
        """Where the step says so."""
        if "stop out" in self.instruction.lower():
            self.stand.stop_in = False

    def reaches(self, value: float) -> bool:
        """Whether the rim's numbers reach so far; a rim without numbers has a degree tape on it."""
        if not self.engine.rim:
            return True
        return abs(value) <= self.engine.rim.get("btdc" if value > 0 else "atdc", 0.0)

    # -- readings

    def figure(self) -> str:
        """The figure of the light that the step is about; empty for another."""
        heads = " ".join(one["words"] for one in self.screen.all("heading")).lower()
        return next((figure for figure, words in FIGURES if re.search(words, heads)), "")

    def is_angle(self) -> bool:
        return self.screen.find("reading-side") is not None

    def reads(self, *, needed: bool = False) -> None:
        """What the step asks to be read."""
        if not self.screen.find("reading"):
            return
        step = self.screen.step
        if self.is_angle() and self.figure():
            if needed or step not in self._done or self.screen.find("stood"):
                self.sets(self.figure())
                self._done.add(step)
        elif needed:
            self.sizes()

    def sizes(self) -> None:
        """A figure that is no angle is set as printed, and noted as left."""
        for _ in range(8):
            self.turns_to_figure()
            printed = next(iter(self.screen.look("target") or self.screen.look("said")), "")
            unit = self.screen.find("reading-unit")
            if printed == "unknown" and unit and "mark" in [one["value"] for one in unit["options"]]:
                self.do(("choose", "reading-unit", "mark"))
            when = self.screen.find("when")
            if when and not any(one["on"] and one["value"] == "left" for one in when["options"]):
                self.do(("choose", "when", "left"))
            before = self.walk.readings
            self.do(("type", "reading", as_printed(printed)), ("tap", "store"))
            self.walk.readings = before + 1
            if self.refused() and not self.conditions():
                raise GaveUp(f"the reading is not taken: {self.refused()}")
            done = self.screen.find("done") or self.screen.find("stood")
            if not done or not done["shut"]:
                return
        raise GaveUp("what is noted as left is not taken")

    def turns_to_figure(self) -> None:
        """Of several figures of a step the one that the key which is shut names."""
        choice, key = self.screen.find("figure"), self.screen.find("done") or self.screen.find("stood")
        for option in choice["options"] if choice and key and key["shut"] else ():
            if key and option["words"].removesuffix(" · noted").lower() in key["words"].lower() and not option["on"]:
                self.do(("choose", "figure", option["value"]))

    def refused(self) -> str:
        """Why a reading was not taken; empty if it was."""
        said = [one["words"] for one in self.screen.part("Take a reading") if "refused" in one.get("look", "")]
        return said[-1] if said else ""

    def takes(self, when: str, figure: str, hands: tuple[Hand, ...] = ()) -> bool:
        """Crank and read, and note it; whether there was anything to read."""
        choice = self.screen.find("when")
        nut = self.says_nut(when, figure)
        if choice and not any(one["on"] and one["value"] == when for one in choice["options"]):
            if when not in [one["value"] for one in choice["options"]]:
                return False
            self.do(("choose", "when", when))
        unit = self.screen.find("reading-unit")
        if unit and not any(one["on"] and one["value"] == "deg" for one in unit["options"]):
            self.do(("choose", "reading-unit", "deg"))
        value = self.stand.read(figure, self.instruction, self.cylinder())
        if value is None:
            raise GaveUp("the light does not flash")
        self.walk.readings += 1
        text, side = typed(self.eye(figure, value), self.way.digits)
        sides = self.side("reading-side", side)
        self.conditions()
        self.do(*nut, *hands, ("type", "reading", text), *sides, ("tap", "store"))
        if self.refused() and when != "turning":
            raise GaveUp(f"the reading is not taken: {self.refused()}")
        return not self.refused()

    def says_nut(self, when: str, figure: str) -> tuple[Hand, ...]:
        """How the nut is: on the engine as it was found, and as it was made since."""
        locked = when == "left" or (when == "found" and self.engine.screws[figure].locked)
        return (("choose", "nut", "tight" if locked else "slack"),) if self.screen.find("nut") else ()

    def side(self, name: str, side: str) -> tuple[Hand, ...]:
        """The side is chosen; where the screen has one chosen already, it is trusted."""
        choice = self.screen.find(name)
        chosen = choice and any(one["on"] for one in choice["options"])
        return (("choose", name, side),) if side and not chosen else ()

    def eye(self, figure: str, value: float) -> float:  # noqa: ARG002
        """What the eye makes of what is shown."""
        return value

    def hand(self, figure: str, inward: float) -> float:  # noqa: ARG002
        """How far the hand turns the screw, told to turn so far."""
        return inward

    def lock_first(self) -> bool:
        """Whether the nut is tight before the reading that counts as left."""
        return True

    def cylinder(self) -> int:
        choice = self.screen.find("cylinder")
        on = next((one["value"] for one in choice["options"] if one["on"]), "") if choice else ""
        return int(on or 1)

    def conditions(self) -> bool:
        """What is asked with a reading and not chosen: as it is on the stand, else the first; whether anything was.
        Petrol is filled of the octane that is printed.
        """
        hands: list[Hand] = []
        octane = re.search(r"octane (\d+) (\S+?),? ", self.screen.sight)
        for choice in self.screen.all("choice"):
            name, options = choice["name"], [one["value"] for one in choice["options"]]
            if name in NOT_CONDITIONS or any(one["on"] for one in choice["options"]):
                continue
            module = "connected" if self.stand.module_on else "disconnected"
            scale = next(
                (one["value"] for one in choice["options"] if octane and octane[2] in (one["words"], one["value"])),
                options[0],
            )
            hands.append(("choose", name, module if module in options else scale))
        box = self.screen.find("octane")
        if box and octane and not box["value"]:
            hands.append(("type", "octane", octane[1]))
        speed = self.screen.find("rpm")
        if speed and not speed["value"]:
            printed = [limit.rpm for limit in limits(self.engine.family, MAXIMUM, self.engine.serial) if limit.rpm]
            hands.append(("type", "rpm", printed[0] if printed else "5000"))
        if hands:
            self.do(*hands)
        return bool(hands)

    def advice(self) -> str:
        """What the screen says of the screw."""
        lines = (one for one in self.screen.part("The screw") if one["kind"] == "text" and not one.get("folded"))
        return "; ".join(one["words"][:1].lower() + one["words"][1:] for one in lines)

    def verdict(self) -> str:
        """How the last reading was judged: the look of its line."""
        lines = [one["look"] for one in self.screen.all("text", folded=True) if one["look"].startswith("verdict")]
        return lines[-1].removeprefix("verdict ") if lines else ""

    def sets(self, figure: str) -> None:
        """As found, turn by turn to the target, locked, and as left."""
        target = next(iter(self.screen.look("target")), "")
        if target:
            self.tell(f"    target {target}")
        if target and figure == MAXIMUM:
            self.walk.aims.append((self.stand.state(self.instruction), target, self.engine.pointer))
        screw = self.engine.screws[figure]
        stale = self.screen.find("stood") is not None
        self.tell(f"    it stands at {screw.angle:g}")
        if stale or self.screen.step in self._done or not self.takes("found", figure):
            screw.lock()
            self.takes("left", figure)
        if self.adjusts_cable():
            self.takes("left", figure)
        for _ in range(MOST_READINGS):
            said = self.advice()
            self.tell(f"      the screw: {said}")
            moved = self.turns(figure, said)
            if moved is None:
                break
        if not screw.locked or not stale:
            self.locks(figure)

    def adjusts_cable(self) -> bool:
        """What the control pulls past the stop is taken out of the cable, where the step says so; whether it was."""
        if "adjust the cable" not in self.instruction or self.verdict() not in ("alarm", "outside"):
            return False
        pulled, self.engine.cable_pull = self.engine.cable_pull, 0.0
        self.tell(f"    the cable pulled it {pulled:g} past the stop")
        return bool(pulled)

    def goes_late(self) -> None:
        """The full-spark stop to where the light shows ten degrees later than the running figure; locked."""
        screw, printed = self.engine.screws[MAXIMUM], limits(self.engine.family, MAXIMUM, self.engine.serial)
        running = next((limit.high for limit in printed if limit.state == RUNNING), 0.0)
        screw.angle += min(0.0, running - 10 - self.engine.true(MAXIMUM, CRANKING))
        screw.lock()

    def turns(self, figure: str, said: str) -> bool | None:
        """One turn as advised, and the reading after it; none when nothing is to be turned any more. Before anything is
        made earlier the causes of a false late reading are ruled out, and it is read once more.
        """
        screw = self.engine.screws[figure]
        if self.rules_out():
            said = self.advice()
        if "a fault to find" in said and self.engine.slipped and self.screen.find("coach-anew"):
            self.tell(f"    found and put right: what made it {self.engine.slipped:g} late")
            self.engine.slipped = 0.0
            self.do(("tap", "coach-anew"))
            self.turning()
            return self.takes("turning", figure) or None
        if "read it once more" in said or "read it anew" in said:
            self.turning()
            return (
                self.takes("turning", figure, (("type", "turned", "0"),) if self.screen.find("turned") else ()) or None
            )
        advised = turn_in(said)
        if "leave it" in said or not advised or screw.fixed:
            return None
        screw.slacken()
        text, inward = advised
        further = past(said)
        before = self.engine.shows(figure, self.stand.state(self.instruction), random.Random(0))
        if further:
            screw.turn(further)
            screw.turn(inward - further)
        else:
            screw.turn(self.hand(figure, inward))
        self._read.add(self.screen.step)
        self.turning()
        hands: tuple[Hand, ...] = ()
        if self.screen.find("turned"):
            hands = (("type", "turned", text), ("choose", "turned-way", "in" if inward > 0 else "out"))
        if not self.takes("turning", figure, hands):
            return None
        after = self.engine.shows(figure, self.stand.state(self.instruction), random.Random(0))
        self.slopes[figure] = (after - before) / inward
        return True

    def rules_out(self) -> bool:
        """Each cause of a false late reading is looked at, and is not there; whether any was asked for."""
        asked = [one for one in self.screen.all("choice") if one["name"].startswith("cause-")]
        open_ones = [one["name"] for one in asked if not any(option["on"] for option in one["options"])]
        for name in open_ones:
            cause = name.removeprefix("cause-")
            if cause in self.engine.late:
                self.do(("choose", name, "not"))
                self.tell(f"    put right: {cause}, which showed it {self.engine.late.pop(cause):g} late")
            self.do(("choose", name, "so"))
        return bool(open_ones)

    def turning(self) -> bool:
        """The reading that follows is one while turning; whether the step takes such."""
        if self.screen.find("nut"):
            self.do(("choose", "nut", "slack"))
            return True
        when = self.screen.find("when")
        options = {one["value"]: one["on"] for one in when["options"]} if when else {}
        if "turning" in options and not options["turning"]:
            self.do(("choose", "when", "turning"))
        return "turning" in options

    def locks(self, figure: str) -> None:
        """Lock it, read again, note as left; and what locking moved is set off against."""
        screw = self.engine.screws[figure]
        before = "nothing"
        for _ in range(8):
            if self.lock_first():
                screw.lock()
            taken = self.takes("left", figure)
            screw.lock()
            if not taken:
                return
            said = self.advice()
            self.tell(f"      locked: {self.verdict()}; {said}")
            self.walk.inside.pop(figure, None)
            self.walk.outside = self.walk.outside - {figure} | (
                {figure} if self.verdict() in ("alarm", "safe", "outside") else set()
            )
            if self.verdict() == "inside":
                self.walk.inside[figure] = self.engine.true(figure, self.stand.state(self.instruction))
            if self.verdict() in ("inside", "none", "") or (self.verdict() == "safe" and said == before):
                return
            before = said
            moved = dragged(said)
            slope = self.slopes.get(figure) or screw.slope
            if moved is None:
                if not self.again(figure):
                    return
                continue
            screw.slacken()
            turn = -moved / slope
            self.by_hand(figure, turn)

    def by_hand(self, figure: str, turn: float) -> None:
        """Turned by what one has learned that a turn does, in eighths; and noted while turning."""
        eighths = round(turn * 8)
        eighths = eighths or (1 if turn > 0 else -1)
        self.engine.screws[figure].turn(eighths / 8)
        self._read.add(self.screen.step)
        if not self.turning():
            return
        hands = (("type", "turned", f"{abs(eighths)}/8"), ("choose", "turned-way", "in" if eighths > 0 else "out"))
        self.takes("turning", figure, hands)

    def again(self, figure: str) -> bool:
        """Out of the window though locking moved nothing: slacken it and go on by the coach."""
        if not self.turning() or not self.screen.find("turned"):
            return False
        self.engine.screws[figure].slacken()
        self.takes("turning", figure, (("type", "turned", "0"),))
        for _ in range(MOST_READINGS):
            if not self.turns(figure, self.advice()):
                return True
        return True
