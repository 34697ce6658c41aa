"""People who invite, agree, end, cook together, eat, pry, forge, export and erase at random, and what they get to see.

`python -m tests.access.prying 500 200` runs so many scripts of so many steps.
"""

from __future__ import annotations

import random
import re
import secrets
import sys
import zipfile
from collections import Counter
from collections.abc import Callable, Iterable
from datetime import UTC, date, datetime, timedelta
from io import BytesIO

from sqlalchemy import Connection, text

from bot.app import APOLOGY, Tarebook, arriving, oldest, open_tarebook
from bot.channels.script import NotPossible, Script
from bot.events import QuestionAsked
from bot.messages import Turn
from bot.people_events import CoachingAgreed, CoachingEnded, KitchenJoined
from bot.reports import export, files, series
from bot.reports.series import Picture
from bot.store.delivery.inbox import Content, Edit, NewRow, Press, Say

CHANNEL = "script"
ROOM = "room"
NAMES = ("Ana", "Ben", "Cem", "Dora", "Enzo")
BEGINS = datetime(2026, 3, 2, 6, tzinfo=UTC)

_KITCHENS = text("SELECT name, kitchen_id FROM person")
_MAY_READ_OF = text(
    "SELECT person.name, batch.name FROM batch JOIN person ON person.kitchen_id = batch.kitchen_id"
    " UNION SELECT person.name, batch.name FROM batch JOIN weigh_in ON weigh_in.batch_id = batch.id"
    " JOIN person ON person.id = weigh_in.person_id"
    " UNION SELECT room.place, batch.name FROM batch JOIN room ON room.kitchen_id = batch.kitchen_id"
)
_ALONE = text(
    "SELECT person.name, batch.name FROM batch JOIN person ON person.kitchen_id = batch.kitchen_id"
    " WHERE (SELECT count(*) FROM person mate WHERE mate.kitchen_id = batch.kitchen_id) = 1"
)
_ENERGY = text(
    "SELECT person.name, weigh_in.day, sum(weigh_in.kcal) FROM weigh_in JOIN person ON person.id = weigh_in.person_id"
    " WHERE kind <> 'removed' AND NOT EXISTS (SELECT 1 FROM weigh_in later WHERE later.replaces = weigh_in.id)"
    " GROUP BY person.name, weigh_in.day"
)
_WITHHELD = text(
    "SELECT person.name, coach.name, setting.value FROM setting JOIN person ON person.id = setting.person_id"
    " JOIN person coach ON setting.name = 'withheld from ' || coach.id"
    " WHERE setting.id IN (SELECT max(id) FROM setting WHERE undone_by IS NULL GROUP BY person_id, name)"
)
_POUNDS = 2.20462262
_ENERGY_TOLD = re.compile(r"\bkcal\b")
_PROTEIN_TOLD = re.compile(r"\bprotein (at least )?\d|\d g more protein")
_IN_A_FILE = {"energy": r"kcal|fat_g", "protein": r"[Pp]rotein( a day|_g)", "body_weight": r"\.7 kg|\"kg\""}
_COMMENTED = re.compile(r"^(\w+), (?:your coach|covering for \w+), on your ", re.MULTILINE)
_UNTIL = re.compile(r"^(\w+) covers for (\w+) until (today|tomorrow|\w+ \d+ \w+)\.", re.MULTILINE)
_DISH = re.compile(r"dish\d+x")
_MARK = re.compile(rf"(own|note|priv)({'|'.join(NAMES)})(x+)q", re.IGNORECASE)
_WEIGHS = re.compile(r"\b(\d\d\.7) kg")
WEIGHTS = {name: f"{60 + 3 * n}.7" for n, name in enumerate(NAMES)}
"""What everybody weighs, in kg, so that a body weight tells whose it is."""

SAYINGS = (
    "today", "yesterday", "week", "show my log", "batches", "tares", "foods", "/target", "/settings", "/reminders",
    "who sees my data?", "/kitchen", "/coach", "roster", "who logged today?", "digest", "help", "undo", "undo",
    "yes", "yes", "no", "1", "2", "80 g", "100 g", "same again", "object", "change last to 120 g", "delete #2",
    "make that cooked", "how much is left of batch 1?", "target 2100 kcal", "/privacy", "who is silent", "who is over",
    "who is new", "who weighs least", "group runners", "pause until 20 May", "resume", "templates", "end the cover",
    "show template word", "Ana's week", "send word to everyone",
)  # fmt: skip
ABOUT_OTHERS = (
    "how is {}?", "{}'s week", "{}'s day", "what did {} eat today?", "what did {} eat yesterday?", "month of {}",
    "target for {} 2100 kcal", "ask {} to weigh #1 again", "ask {} to weigh the apple again", "who is {}?",
    "{}'s last 4 weeks", "compare {}'s week with last week", "{}'s weight", "{}'s energy balance", "report for {}",
    "how much apple does {} eat?", "my notes about {}", "put {} in group runners", "pause {} until 20 April",
    "resume {}", "export {}'s data", "report for {}", "send word to {}", "{}'s month",
)  # fmt: skip


_Pairs = frozenset[tuple[str, str]]
_Parts = frozenset[tuple[str, str, str]]


class Leak(AssertionError):
    """Somebody was told what is not theirs to know."""


class Crowd:
    """One script, with the marks that each person's records carry and the consents that have been given in it."""

    def __init__(self, tarebook: Tarebook, seed: int, counted: Counter[str]) -> None:
        self.tarebook = tarebook
        self.random = random.Random(seed)
        self.counted = counted
        self.script = Script(tarebook, CHANNEL)
        self.now = BEGINS
        self.lives = Counter[str]()
        self.guided: set[tuple[str, str]] = set()
        """(client, coach) for whom the client's yes stands."""
        self.covers: dict[tuple[str, str], tuple[str, date]] = {}
        """For (client, colleague) the coach who is covered for, and the last day that the client was told."""
        self.called: dict[tuple[str, str], str] = {}
        """The client whom a coach calls by a name."""
        self.codes: list[str] = []
        self.refs: list[tuple[str, str]] = []
        self.buttons: list[str] = []
        self.lately: _May | None = None
        """What could be read at one moment or another since time passed last."""
        self.asked_for: list[tuple[str, files.Export]] = []
        """Files of clients that were asked for, by whom; they are made whenever they are sent."""
        self.dishes = 0
        self.cooked: dict[str, set[str]] = {name: set() for name in NAMES}
        """What everybody has opened batches of."""
        self.speaker = ""
        for name in NAMES:
            self._begin(name)
        for coach, client in (("Cem", "Ana"), ("Dora", "Ben")):
            self._guides(coach, client)

    def own(self, name: str) -> str:
        """The word in all that somebody eats, and in nothing else."""
        return f"own{name}{'x' * self.lives[name]}q".casefold()

    def note(self, name: str) -> str:
        """The word in all that somebody has passed on to others."""
        return f"note{name}{'x' * self.lives[name]}q".casefold()

    def private(self, name: str) -> str:
        """The word in all that somebody keeps about others for themselves."""
        return f"priv{name}{'x' * self.lives[name]}q".casefold()

    def step(self) -> None:
        """Somebody does something."""
        does: tuple[tuple[Callable[[str], None], int], ...] = (
            (self._eats, 6), (self._says, 6), (self._pries, 8), (self._invites, 4), (self._uses_a_code, 3),
            (self._passes_on, 3), (self._ends, 4), (self._cooks, 4), (self._takes, 5), (self._in_the_room, 3),
            (self._presses, 3), (self._edits, 2), (self._exports, 1), (self._waits, 2), (self._erases, 1),
            (self._remarks, 4), (self._withholds, 8), (self._covers, 6), (self._keeps_words, 3), (self._files, 4),
            (self._tells_of_themselves, 2),
        )  # fmt: skip
        kinds, weights = [kind for kind, _ in does], [weight for _, weight in does]
        self.counted["steps"] += 1
        self.random.choices(kinds, weights)[0](self.random.choice(NAMES))

    def _begin(self, name: str) -> None:
        self.lives[name] += 1
        self.cooked[name] = {"dish0x"}
        kcal = 150 + 10 * NAMES.index(name)
        carbs = (kcal - 38) / 4
        self.say(name, f"label {self.own(name)}: serving 100 g, {kcal} kcal, protein 5, fat 2, carbs {carbs:g}")
        self.say(name, "yes")
        self._eats(name)

    def _eats(self, name: str) -> None:
        # An amount by itself would go into a pot that is open.
        self.say(name, f"ate {self.random.randint(50, 300)} g {self.own(name)}")

    def _remarks(self, name: str) -> None:
        """Keeps something about a client for themselves; whoever else guides the client looks for it."""
        clients = sorted(client for client, coach in self.guided if coach == name)
        whom, word = self.random.choice(clients or list(NAMES)), self.private(name)
        self.say(name, self.random.choice((f"private note on {whom}: {word}", f"flag {whom}: {word}")))
        if clients and self.random.random() < 0.5:
            other = self.random.choice(NAMES)
            self._guides(other, whom)
        for reader in sorted({name, *(coach for client, coach in self.guided if client == whom)}):
            for asked in (f"my notes about {whom}", "roster", f"how is {whom}?"):
                self.say(reader, asked)

    def _guides(self, coach: str, client: str) -> None:
        came = self.say(coach, f"invite {client}")
        codes = [code for _, turn in came for r in turn.replies for code in re.findall(r"/start ([\w-]{22})", r.text)]
        for code in codes:
            self.say(client, f"/start {code}")
            self.say(client, "ok")

    def _withholds(self, name: str) -> None:
        """Leaves out a part for somebody, who looks at once."""
        coaches = sorted(coach for client, coach in self.guided if client == name)
        whom = self.random.choice(coaches or [each for each in NAMES if each != name])
        if not coaches:
            self._guides(whom, name)
        texts = (
            f"hide my weight from {whom}", f"hide my calories from {whom}", f"no comments from {whom}",
            f"{whom} may see my weight again", f"{whom} may see my calories again", f"hide my protein from {whom}",
            f"{whom} may see my protein again", f"{whom} may know about my cautions", f"hide my cautions from {whom}",
            f"{whom} may export my data", f"{whom} may not export my data",
        )  # fmt: skip
        self.say(name, f"I weigh {WEIGHTS[name]} kg")
        self.say(name, self.random.choice(texts))
        self.counted["withheld"] += bool(self._may().withheld)
        asked = ("{}'s week", "{}'s day", "{}'s weight", "how is {}?", "comment on {}'s #1: hm", "report for {}")
        for each in (*asked, "export {}'s data", "{}'s last 4 weeks", "compare {}'s week with last week", "roster"):
            self.say(whom, each.format(name))

    def _covers(self, name: str) -> None:
        """Has a colleague cover; the colleague and the client answer as they like, and the colleague looks."""
        clients = sorted(client for client, coach in self.guided if coach == name)
        colleague = self.random.choice(NAMES)
        if not clients or colleague in (name, *clients):
            return
        last = self.now.date() + timedelta(days=self.random.choice((0, 1, 3)))
        came = self.say(name, f"{colleague} covers my clients until {last.day} {last:%B}")
        codes = [code for _, turn in came for r in turn.replies for code in re.findall(r"/start ([\w-]{22})", r.text)]
        for code in codes:
            self.say(colleague, f"/start {code}")
            self.say(colleague, self.random.choice(("yes, I cover", "yes, I cover", "no")))
        for client in clients:
            self.say(client, self.random.choice(("yes", "yes", "yes", "no")))
        for later in (0, self.random.choice((0, 30, 80))):
            self.now += timedelta(hours=later)
            for client in clients:
                if later == 0 and self.random.random() < 0.2:
                    self.say(client, f"end coaching with {name}")
                for asked in ("{}'s day", "{}'s week", "report for {}", "export {}'s data"):
                    self.say(colleague, asked.format(client))

    def _keeps_words(self, name: str) -> None:
        """Keeps templates, of which one is sent and one never; others ask for them."""
        self.say(name, f"save template secret: {self.private(name)}")
        self.say(name, f"save template word: {self.note(name)} goes well")
        self.counted["templates"] += 1
        for reader in (name, self.random.choice(NAMES)):
            for asked in ("templates", "show template secret", "send secret to nobody", "send word to everyone"):
                self.say(reader, asked)

    def _files(self, name: str) -> None:
        """Asks for files of a client, who answers as they like."""
        clients = sorted(client for client, coach in self.guided if coach == name)
        whom = self.random.choice(clients or list(NAMES))
        self.say(name, f"export {whom}'s data")
        self.say(whom, self.random.choice(("yes", "yes", "no")))
        self.say(name, f"export {whom}'s data")
        self.say(name, f"report for {whom}")
        if self.random.random() < 0.5:
            self.say(whom, self.random.choice((f"{name} may not export my data", f"hide my calories from {name}")))
        for to, wanted in self.asked_for[-8:]:
            self._open(to, wanted, self._may(), f"a file that {to} asked for is sent later")

    def _tells_of_themselves(self, name: str) -> None:
        """Has something remembered that limits their targets; whoever guides them looks."""
        self.say(name, "I'm pregnant")
        self.say(name, "yes, remember it")
        for coach in sorted(coach for client, coach in self.guided if client == name):
            if self.random.random() < 0.5:
                self.say(name, f"{coach} may know about my cautions")
            self.say(coach, "roster")
            self.say(coach, f"how is {name}?")

    def _says(self, name: str) -> None:
        self.say(name, self.random.choice(SAYINGS))

    def _pries(self, name: str) -> None:
        self.say(name, self.random.choice(ABOUT_OTHERS).format(self.random.choice(NAMES)))

    def _invites(self, name: str) -> None:
        whom = self.random.choice(NAMES)
        self.say(name, self.random.choice((f"invite {whom}", f"invite {whom}", f"invite {whom} to my kitchen")))
        self._uses_a_code(whom)

    def _uses_a_code(self, name: str) -> None:
        guessed = self.random.random() < 0.1 or not self.codes
        code = secrets.token_urlsafe(16) if guessed else self.random.choice(self.codes[-4:])
        turns = self.say(name, f"/start {code}")
        if any(isinstance(event, QuestionAsked) for event in turns[0][1].events):
            self.say(name, self.random.choice(("yes", "yes", "no")))

    def _passes_on(self, name: str) -> None:
        whom, word = self.random.choice((*NAMES, "everyone")), self.note(name)
        self.say(
            name,
            self.random.choice(
                (
                    f"tell {whom}: {word} goes well",
                    f"reply: {word} it is",
                    f"tell group runners: {word}",
                    f"comment on {whom}'s #1: {word}",
                )
            ),
        )

    def _ends(self, name: str) -> None:
        whom = self.random.choice(NAMES)
        self.say(name, self.random.choice((f"end coaching with {whom}", "leave the kitchen", "yes")))

    def _cooks(self, name: str) -> None:
        self.dishes += 1
        self.cooked[name].add(f"dish{self.dishes}x")
        self.say(name, f"new batch dish{self.dishes}x: 700 g raw chicken breast")
        self.say(name, f"batch {self.random.randint(1, 6)} cooked {self.random.choice((500, 550, 600))} g")

    def _takes(self, name: str) -> None:
        self.say(name, f"took {self.random.choice((60, 120, 230))} g from batch {self.random.randint(1, 6)}")

    def _in_the_room(self, name: str) -> None:
        texts = (
            "/kitchen here", "yes", "batches", "took 80 g from batch 1", f"100 g {self.own(name)}", "today", "roster",
            "/privacy", "/export", f"{self.random.choice(NAMES)}'s week", "new batch dish0x: 500 g raw carrots", "undo",
        )  # fmt: skip
        self.say(name, self.random.choice(texts), room=ROOM)

    def _presses(self, name: str) -> None:
        """Presses a button that may be another's, be settled, or never have been there."""
        forged = self.random.random() < 0.1 or not self.buttons
        ref = secrets.token_urlsafe(16) if forged else self.random.choice(self.buttons)
        self._hand_in(name, Press(ref=ref, choice=self.random.randint(0, 4)))

    def _edits(self, name: str) -> None:
        """Edits a message that may be another's."""
        if not self.refs:
            return
        whose, ref = self.random.choice(self.refs)
        edit = Edit(text=f"{self.random.randint(50, 300)} g {self.own(name)}", edits=ref)
        self.counted["foreign edits"] += whose != name
        self._hand_in(name, edit)

    def _hand_in(self, name: str, content: Content) -> None:
        self.now += timedelta(minutes=1)
        key = secrets.token_hex(8)
        before = self._may()
        new = NewRow(CHANNEL, key, name, content, None, self.now)
        done = self.tarebook.handle(arriving(new), shown=True) + self.tarebook.handle(oldest(CHANNEL), shown=True)
        came = [(each.row.person_key, each.turn) for each in done if each.turn is not None]
        assert came[0][0] == name
        self._look(name, came, before, str(content))

    def _waits(self, _: str) -> None:
        """Time passes, and what is due comes."""
        self.now += timedelta(hours=self.random.choice((2, 9, 20)))
        # What was due since time passed last comes as of the moment at which it was due.
        before = self.lately or self._may()
        self._look("", self.script.advance(self.now), before, "time passes", lasting=True)
        self.lately = self._may()

    def _exports(self, name: str) -> None:
        for to, turn in self.say(name, "/export"):
            for reply in turn.replies:
                if reply.document is None:
                    continue
                assert to == name
                person = self.tarebook.person(CHANNEL, name)
                assert person is not None
                content = export.zipped(self.tarebook.everything_of(person.id, files.decode(reply.document).at))
                self.counted["exports"] += 1
                with zipfile.ZipFile(BytesIO(content)) as archive:
                    for part in archive.namelist():
                        if not part.endswith(".png"):
                            words = archive.read(part).decode("utf-8-sig")
                            # What somebody has said themselves they get back.
                            for dish in self.cooked[name]:
                                words = re.sub(rf"\b{dish}\b", "", words)
                            self._read(name, words, self._may(), f"export {part}")

    def _erases(self, name: str) -> None:
        if self.random.random() < 0.5:
            return
        self.say(name, "/privacy")
        self.say(name, "yes, erase everything")
        came = self.say(name, "yes, erase it all")
        said = [reply.text for _, turn in came for reply in turn.replies]
        assert any("All your data has been erased" in text for text in said), said
        self.guided = {pair for pair in self.guided if name not in pair}
        self.covers = {pair: of for pair, of in self.covers.items() if name not in (*pair, of[0])}
        self._forget_covers()
        self.counted["erased"] += 1
        marks = (self.own(name), self.note(name), self.private(name))
        with self.tarebook.transaction() as conn:
            left = [where for where, words in _everything(conn) if any(mark in words.casefold() for mark in marks)]
        if left:
            raise Leak(f"after {name} was erased their words stand in {left}")
        self._begin(name)

    def say(self, name: str, words: str, room: str | None = None) -> list[tuple[str, Turn]]:
        """What somebody says; whoever is told something because of it is looked at."""
        self.now += timedelta(minutes=1)
        before = self._may()
        if room is not None:
            said = Say(text=words, shared=True, place=room)
            new = NewRow(CHANNEL, secrets.token_hex(8), name, said, None, self.now)
            (turn,) = [each.turn for each in self.tarebook.handle(arriving(new), shown=True)]
            assert turn is not None
            came = [(ROOM, Turn(turn.replies)), (name, Turn((), turn.events))]
        else:
            ref = secrets.token_hex(4)
            came = self.script.say(name, words, self.now, ref)
            self.refs = [*self.refs[-20:], (name, ref)]
        self._look(name, came, before, words)
        return came

    def _look(self, name: str, came: Iterable[tuple[str, Turn]], before: _May, why: str, lasting: bool = False) -> None:
        """Looks at what came of it. What came at a moment in a stretch that is `lasting` may be from its beginning."""
        came, self.speaker = list(came), name
        self._note_consents(name, came)
        after = self._may()
        both = before | after if lasting else before & after
        for to, turn in came:
            for reply in turn.replies:
                assert APOLOGY not in reply.text, why
                self.codes += re.findall(r"/start ([\w-]{22})", reply.text)
                if reply.question_ref is not None:
                    self.buttons = [*self.buttons[-20:], reply.question_ref]
                said = "\n".join((reply.text, *reply.choices))
                self._read(to, said, both if to in NAMES else before | after, f"{name}: {why}")
                self._read_of_clients(to, said, both, f"{name}: {why}")
                if reply.picture is not None:
                    self._see(to, reply.picture, both, f"{name}: {why}")
                if reply.document is not None:
                    wanted = files.decode(reply.document)
                    self.asked_for.append((to, wanted))
                    self._open(to, wanted, both, f"{name}: {why}")
            for event in turn.events:
                self._read(to, str(event), before | after, f"{name}: {why} (event)")

    def _note_consents(self, name: str, came: Iterable[tuple[str, Turn]]) -> None:
        for to, turn in came:
            for event in turn.events:
                if isinstance(event, CoachingAgreed):
                    # Nobody but the client gives the client's consent.
                    assert to == name
                    self.guided.add((name, event.coach))
                    self.called[event.coach, event.client] = name
                    self.counted["consents"] += 1
                    self._note_cover(name, turn)
                if isinstance(event, CoachingEnded):
                    self.counted["ended"] += 1
                    coach = event.coach
                    covered = self.called.get((coach, event.client), "")
                    if coach != name and self.covers.get((covered, coach), ("", None))[0] == name:
                        # The coach has ended a cover by a colleague.
                        self.guided.discard((covered, coach))
                        continue
                    others = {client for client, guide in self.guided if guide == coach}
                    gone = {name} if coach != name else self._told_of_the_end(came, others)
                    self.guided -= {(client, coach) for client in gone}
                    self._forget_covers()
                if isinstance(event, KitchenJoined):
                    self.counted["kitchens joined"] += 1

    def _note_cover(self, client: str, turn: Turn) -> None:
        """Keeps until when a colleague covers, as the client was told."""
        for reply in turn.replies:
            for colleague, coach, said in _UNTIL.findall(reply.text):
                today = self.now.date()
                words = {"today": today, "tomorrow": today + timedelta(days=1)}
                last = words.get(said) or datetime.strptime(f"{said} 2026 +0000", "%A %d %B %Y %z").date()
                self.covers[client, colleague] = (coach, last)
                self.counted["covers"] += 1

    def _forget_covers(self) -> None:
        """Nobody covers for a coach who does not guide the client any more, nor after the last day."""
        for (client, colleague), (coach, last) in list(self.covers.items()):
            if (client, colleague) not in self.guided:
                del self.covers[client, colleague]
            elif (client, coach) not in self.guided or last < self.now.date():
                self.counted["covers over"] += 1
                self.guided.discard((client, colleague))
                del self.covers[client, colleague]

    def _told_of_the_end(self, came: Iterable[tuple[str, Turn]], clients: set[str]) -> set[str]:
        return {to for to, turn in came if to in clients and any("ended the coaching" in r.text for r in turn.replies)}

    def _may(self) -> _May:
        self._forget_covers()
        with self.tarebook.transaction() as conn:
            dishes = {(reader, dish) for reader, dish in conn.execute(_MAY_READ_OF)}
            alone = {(reader, dish) for reader, dish in conn.execute(_ALONE)}
            told = {(client, coach, part) for client, coach, parts in conn.execute(_WITHHELD) for part in parts.split()}
        spared = {each for each in told if not each[2].startswith("+")}
        given = {(client, coach, part[1:]) for client, coach, part in told - spared}
        given -= {(client, colleague, part) for client, colleague, part in given if (client, colleague) in self.covers}
        for (client, colleague), (coach, _) in self.covers.items():
            spared |= {(client, colleague, part) for whose, by, part in spared if (whose, by) == (client, coach)}
            given |= {(client, colleague, part) for whose, by, part in given if (whose, by) == (client, coach)}
        now = _May(frozenset(self.guided), frozenset(dishes), frozenset(alone), frozenset(spared), frozenset(given))
        self.lately = now if self.lately is None else self.lately | now
        return now

    def _read(self, to: str, words: str, may: _May, why: str) -> None:
        for kind, called, life in _MARK.findall(words.casefold()):
            owner, mark = called.title(), f"{kind}{called}{life}q"
            if len(life) != self.lives[owner]:
                raise Leak(f"{to} was told of {owner} from before {owner} was erased, by {why}: {words}")
            self.counted["seen"] += owner != to
            known = (owner, to) in may.guided or (kind == "note" and (to, owner) in may.guided)
            if owner != to and (kind == "priv" or not known):
                raise Leak(f"{to} was told of {owner}, by {why}: {words}")
            self.counted["private seen"] += kind == "priv"
            if (owner, to, "energy") in may.withheld and re.search(rf"{mark}[^\n]*\d kcal", words.casefold()):
                raise Leak(f"{to} was told the energy of {owner}, who withholds it, by {why}: {words}")
        for kg in _WEIGHS.findall(words):
            owner = next(name for name, weight in WEIGHTS.items() if weight == kg)
            self.counted["weights seen"] += owner != to
            if owner != to and ((owner, to) not in may.guided or (owner, to, "body_weight") in may.withheld):
                raise Leak(f"{to} was told the body weight of {owner}, by {why}: {words}")
        for dish in _DISH.findall(words):
            known = (to, dish) in may.dishes or self._tells_of_eating(to, dish, may)
            # Whoever cooks alone may speak of it wherever they like.
            if not known and not (to == ROOM and (dish in why or (self.speaker, dish) in may.alone)):
                raise Leak(f"{to} was told of {dish}, by {why}: {words}")

    def _read_of_clients(self, to: str, words: str, may: _May, why: str) -> None:
        """No line about a client has what they withhold; what they are not asked for yet is not in any."""
        about = [(called, client) for (coach, called), client in self.called.items() if coach == to and client != to]
        whole = next(
            (client for called, client in about if re.match(rf"{called}(, as {called} reads it)?:\n", words)), ""
        )
        for line in words.split("\n"):
            named = {client for called, client in about if re.search(rf"\b{called}\b", line)}
            owner = whole or (named.pop() if len(named) == 1 else "")
            if not owner or line.startswith("The target "):
                continue
            for part, told in (("energy", _ENERGY_TOLD), ("protein", _PROTEIN_TOLD)):
                if (owner, to, part) in may.withheld and told.search(line):
                    raise Leak(f"{to} was told the {part} of {owner}, who withholds it, by {why}: {line}")
            if "standing caution" in line and not re.search("your targets|share|told of", line):
                self.counted["cautions seen"] += 1
                if (owner, to, "cautions") not in may.given:
                    raise Leak(f"{to} was told of a caution of {owner}, by {why}: {line}")
        for coach in _COMMENTED.findall(words):
            self.counted["comments seen"] += 1
            if (to, coach, "comments") in may.withheld:
                raise Leak(f"{coach} commented on what {to} eats, who wants no comments, by {why}")
        if self.speaker != to and "pregnan" in words:
            raise Leak(f"{to} was told what {self.speaker} said of themselves, by {why}: {words}")

    def _open(self, to: str, wanted: files.Export, may: _May, why: str) -> None:
        """The file is of a client of its reader's, with the consent that it takes, and without what is withheld."""
        coach = self.tarebook.person(CHANNEL, to)
        if wanted.client_id is None or coach is None:
            return
        owner = next((name for name in NAMES if self._id_of(name) == wanted.client_id), "somebody who is erased")
        withheld = {part for whose, by, part in may.withheld if (whose, by) == (owner, to)}
        if wanted.form == "page":
            page = self.tarebook.page_of(coach.id, wanted.client_id, wanted.at, self.now)
            if page is None:
                return
            self.counted["pages"] += 1
            words = "\n".join((str(page.facts), str(page.weeks), str(page.columns), str(page.notes)))
            self._check_days(owner, page.picture, withheld, why)
        else:
            shared = self.tarebook.shared_of(coach.id, wanted.client_id, wanted.at, self.now)
            if shared is None:
                return
            self.counted["files"] += 1
            if (owner, to, "export") not in may.given:
                raise Leak(f"{to} got a file of {owner} without {owner}'s yes, by {why}")
            words = export.as_json(shared).decode()
            for picture in shared.pictures.values():
                self._check_days(owner, picture, withheld, why)
        if (owner, to) not in may.guided:
            raise Leak(f"{to} got a file of {owner}, by {why}")
        self._read(to, words, may, why)
        for part, told in (
            ("energy", r"kcal|fat_g"),
            ("protein", r"[Pp]rotein( a day|_g)"),
            ("body_weight", r"\.7 kg|\"kg\""),
        ):
            if part in withheld and re.search(told, words):
                raise Leak(f"{to} got the {part} of {owner} in a file, by {why}: {words}")

    def _check_days(self, owner: str, picture: Picture, withheld: set[str], why: str) -> None:
        told = {
            "energy": [day.kcal for day in picture.days],
            "protein": [day.protein_g for day in picture.days],
            "body_weight": [day.weight for day in picture.days],
        }
        for part in withheld & told.keys():
            if any(value is not None for value in told[part]):
                raise Leak(f"a picture shows the {part} of {owner}, who withholds it, by {why}")

    def _id_of(self, name: str) -> int | None:
        person = self.tarebook.person(CHANNEL, name)
        return None if person is None else person.id

    def _tells_of_eating(self, to: str, dish: str, may: _May) -> bool:
        """Whether a client of theirs may read of the dish: it stands on the client's sheet."""
        return any((client, dish) in may.dishes for client, coach in may.guided if coach == to)

    def _see(self, to: str, picture: str, may: _May, why: str) -> None:
        """The picture is of somebody whom its reader may see."""
        shown = series.decode(picture)
        drawn = {day.day: round(day.kcal) for day in shown.days if day.kcal}
        for kg in {day.weight / (_POUNDS if shown.weight_unit == "lb" else 1) for day in shown.days if day.weight}:
            owner = next(name for name, weight in WEIGHTS.items() if abs(float(weight) - kg) < 0.05)
            if owner != to and ((owner, to) not in may.guided or (owner, to, "body_weight") in may.withheld):
                raise Leak(f"{to} was shown the body weight of {owner}, by {why}")
        with self.tarebook.transaction() as conn:
            of_all: dict[str, dict[str, int]] = {}
            for owner, day, kcal in conn.execute(_ENERGY):
                of_all.setdefault(owner, {})[str(day)] = round(kcal or 0)
        shares = {client for client, coach in may.guided if coach == to and (client, to, "energy") not in may.withheld}
        allowed = {to, *shares}
        self.counted["pictures"] += 1
        for owner in allowed:
            if all(of_all.get(owner, {}).get(day.isoformat()) == kcal for day, kcal in drawn.items()):
                return
        raise Leak(f"{to} was shown a picture of somebody else, by {why}")


class _May:
    """Who may read what, at one moment."""

    def __init__(self, guided: _Pairs, dishes: _Pairs, alone: _Pairs, withheld: _Parts, given: _Parts) -> None:
        self.guided = guided
        self.dishes = dishes
        self.alone = alone
        self.withheld = withheld
        self.given = given

    def __and__(self, later: _May) -> _May:
        """People's consent has to stand before and after; a batch has to be theirs before or after."""
        guided = self.guided & later.guided
        return self._with(later, guided, self.withheld | later.withheld, self.given & later.given)

    def __or__(self, later: _May) -> _May:
        guided = self.guided | later.guided
        return self._with(later, guided, self.withheld & later.withheld, self.given | later.given)

    def _with(self, later: _May, guided: _Pairs, withheld: _Parts, given: _Parts) -> _May:
        return _May(guided, self.dishes | later.dishes, self.alone | later.alone, withheld, given)


def _everything(conn: Connection) -> Iterable[tuple[str, str]]:
    """(table, all its words) of the whole database."""
    tables = conn.execute(text("SELECT name FROM sqlite_master WHERE type = 'table'")).scalars().all()
    for table in tables:
        yield table, str(conn.execute(text(f'SELECT * FROM "{table}"')).all())


def run(scripts: int, steps: int, first_seed: int = 0) -> Counter[str]:
    """How often what happened. Raises Leak."""
    counted: Counter[str] = Counter()
    for seed in range(first_seed, first_seed + scripts):
        with open_tarebook("sqlite://") as tarebook:
            crowd = Crowd(tarebook, seed, counted)
            try:
                for _ in range(steps):
                    crowd.step()
            except (Leak, AssertionError, NotPossible) as error:
                raise Leak(f"script {seed}: {error}") from error
        counted["scripts"] += 1
    return counted


if __name__ == "__main__":
    print(dict(run(*(int(given) for given in sys.argv[1:]))))
