"""A pot through any sequence of messages: nothing is lost or made, and undo leads back exactly."""

from __future__ import annotations

from contextlib import ExitStack
from dataclasses import dataclass
from datetime import UTC, datetime

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from bot.app import open_tarebook
from bot.channels.converse import Converse
from bot.store import batches, people, weighins
from bot.store.books import Books
from domain.batches import MOST_KCAL_PER_G, OVER_DRAW_SLACK_G, Batch
from domain.weighins import WeighIn

from .chat import Chat, Door, Said

EXACT_G = 0.01
FOODS = ("onion", "carrots", "water", "olive oil", "zorblax")
UNKNOWN = "zorblax"
LATE = 15
"""Messages after which the batch may be finished."""
SOME_GRAMS = st.integers(min_value=20, max_value=700)
FEW = st.integers(min_value=2, max_value=6)

Left = tuple[object, ...]


@dataclass(frozen=True)
class Books1:
    """The batch and its portions as they are on record."""

    batch: Batch | None
    portions: tuple[WeighIn, ...]

    def same(self) -> Left:
        """What an undo has to bring back."""
        if self.batch is None:
            return ()
        pot = self.batch.pot
        boxes = tuple((box.number, box.grams, box.place) for box in pot.boxes)
        mass = (pot.taken_g, pot.reduced_g, pot.loose_g, pot.fat_off_g, pot.poured_g, pot.piece, pot.piece_g)
        return (self.batch.name, self.batch.ingredients, self.batch.cooked_g, boxes, mass, pot.closed, self.portions)


class APot(RuleBasedStateMachine):
    """One message a rule. What a message asks is answered by a choice or left alone."""

    def __init__(self) -> None:
        super().__init__()
        self.opened = ExitStack()
        self.tarebook = self.opened.enter_context(open_tarebook("sqlite://"))
        self.chat = Chat(Door(Converse(self.tarebook)), "cook")
        self.before: list[Left] = []
        self.chat.say("new batch stew: 900 g raw ground beef 80/20, 200 g onion")

    @initialize(grams=st.none() | st.integers(min_value=600, max_value=1400))
    def cooked_at_first(self, grams: int | None) -> None:
        if grams is not None:
            self._say(f"batch 1 cooked {grams} g")

    def teardown(self) -> None:
        self.opened.close()

    def _read(self) -> Books1:
        with self.tarebook.transaction() as conn:
            person = people.find(conn, "converse", "cook")
            assert person is not None
            books = Books(conn, person, 0, datetime(2026, 3, 2, 12, tzinfo=UTC))
            portions = tuple(stored.weigh_in for stored in weighins.portions(books, 1))
            return Books1(batches.get(books, 1), portions)

    def _say(self, text: str) -> Said:
        return self._noted(self._read().same(), self.chat.say(text))

    def _noted(self, before: Left, said: Said) -> Said:
        if any(kind.startswith(("batch_", "weigh_in")) for kind in said.kinds):
            self.before.append(before)
        else:
            assert self._read().same() == before, "what changes a batch says so"
        return said

    @rule(grams=SOME_GRAMS, food=st.sampled_from(FOODS))
    def add(self, grams: int, food: str) -> None:
        self._say(f"add {grams} g {food} to batch 1")

    @rule(grams=SOME_GRAMS)
    def forgotten(self, grams: int) -> None:
        self._say(f"forgot, {grams} g carrots went in batch 1 at the start")

    @rule(grams=SOME_GRAMS)
    def correct(self, grams: int) -> None:
        self._say(f"the onion in batch 1 was {grams} g")

    @rule(food=st.sampled_from(("onion", "carrots", "water")))
    def remove(self, food: str) -> None:
        self._say(f"leave the {food} out of batch 1")

    @rule(grams=st.integers(min_value=400, max_value=1500))
    def cook(self, grams: int) -> None:
        self._say(f"batch 1 cooked {grams} g")

    @rule(grams=st.integers(min_value=5, max_value=200))
    def pour_off(self, grams: int) -> None:
        self._say(f"poured off {grams} g fat from batch 1")

    @rule(grams=SOME_GRAMS)
    def take(self, grams: int) -> None:
        self._say(f"took {grams} g from batch 1")

    @rule(
        share=st.sampled_from(("half", "a quarter", "a third")), of=st.sampled_from(("of all of", "of what's left of"))
    )
    def take_a_share(self, share: str, of: str) -> None:
        self._say(f"I had {share} {of} batch 1")

    @rule(count=FEW, grams=st.integers(min_value=80, max_value=300))
    def fill_boxes(self, count: int, grams: int) -> None:
        self._say(f"froze {count} boxes of {grams} g from batch 1")

    @rule(count=FEW)
    def split(self, count: int) -> None:
        self._say(f"split batch 1 into {count} boxes")

    @rule(count=st.sampled_from(("a box", "2 boxes")))
    def take_boxes(self, count: str) -> None:
        self._say(f"{count} from batch 1")

    @rule(count=st.integers(min_value=2, max_value=24))
    def count_out(self, count: int) -> None:
        self._say(f"cut batch 1 into {count} pieces")

    @rule(count=FEW)
    def take_pieces(self, count: int) -> None:
        self._say(f"{count} pieces of batch 1")

    @rule(grams=SOME_GRAMS)
    def give_away(self, grams: int) -> None:
        self._say(f"gave dan {grams} g of batch 1")

    @rule()
    def give_a_box_away(self) -> None:
        self._say("gave dan a box of batch 1")

    @rule(rest=st.sampled_from(("", ", gave the rest to Priya")))
    def take_half_a_box(self, rest: str) -> None:
        self._say(f"half a stew box{rest}")

    @rule()
    def take_what_is_loose(self) -> None:
        self._say("the loose stew was my dinner")

    @rule(grams=st.integers(min_value=20, max_value=200))
    def eat_what_others_left(self, grams: int) -> None:
        self._say(f"finished the {grams} g of stew that my son left on his plate")

    @rule(grams=SOME_GRAMS)
    def change_the_last(self, grams: int) -> None:
        self._say(f"change last to {grams} g")

    @rule()
    def delete_the_last(self) -> None:
        self._say("delete last")

    @precondition(lambda self: len(self.chat.heard) > LATE)
    @rule()
    def finish(self) -> None:
        self._say("finished batch 1")

    @precondition(lambda self: bool(self.chat.heard[-1].choices))
    @rule(which=st.integers(min_value=1, max_value=4))
    def answer(self, which: int) -> None:
        before, shown = self._read().same(), self.chat.heard[-1].choices
        self._noted(before, self.chat.press(min(which, len(shown))))

    @precondition(lambda self: bool(self.before))
    @rule()
    def undo(self) -> None:
        while not (said := self.chat.say("undo")).events:
            assert "Question dropped" in said.text  # what the last message only asked goes first
        assert self._read().same() == self.before.pop()

    @invariant()
    def what_went_in_is_what_came_out(self) -> None:
        batch = self._read().batch
        assert batch is not None
        pot = batch.pot
        if batch.cooked_g is None:
            assert not pot.portions
            return
        out_g = pot.taken_g + pot.reduced_g + batch.left_g - batch.over_drawn_g
        assert out_g == pytest.approx(batch.cooked_g, abs=EXACT_G)
        assert batch.over_drawn_g <= OVER_DRAW_SLACK_G + EXACT_G or self._confirmed_over()
        if batch.over_drawn_g <= EXACT_G:
            assert pot.loose_g + sum(box.grams for box in pot.boxes) == pytest.approx(batch.left_g, abs=EXACT_G)

    def _confirmed_over(self) -> bool:
        """Whether the cook has insisted on more than there was."""
        return any("yes, " in choice for said in self.chat.heard for choice in said.choices)

    @invariant()
    def portions_on_record_are_those_of_the_batch(self) -> None:
        read = self._read()
        assert read.batch is not None
        weighed = sum(weigh_in.edible_g for weigh_in in read.portions)
        assert weighed == pytest.approx(read.batch.pot.taken_g, abs=EXACT_G)
        counted = [read.batch.portion(portion) for portion in read.batch.pot.portions]
        kcal = sum(found[1].nutrients.kcal for found in counted if found is not None)
        on_record = sum(weigh_in.nutrients.kcal for weigh_in in read.portions if weigh_in.nutrients is not None)
        assert on_record == pytest.approx(kcal, abs=EXACT_G), "every portion counts as the batch makes it now"

    @invariant()
    def no_more_energy_is_eaten_than_is_in_the_pot(self) -> None:
        read = self._read()
        batch = read.batch
        assert batch is not None
        known = sum(each.nutrients.kcal for each in batch.ingredients if each.nutrients is not None)
        eaten = sum(weigh_in.nutrients.kcal for weigh_in in read.portions if weigh_in.nutrients is not None)
        over = batch.over_drawn_g * MOST_KCAL_PER_G
        assert eaten <= known + over + EXACT_G


APot.TestCase.settings = settings(max_examples=30, stateful_step_count=25, deadline=None, derandomize=True)
TestAPot = APot.TestCase
