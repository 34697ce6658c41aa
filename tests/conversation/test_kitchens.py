"""A kitchen that several people share: let in by a code, with batches in common and days of one's own."""

from __future__ import annotations

import re
import threading
from contextlib import ExitStack

import pytest

from bot.app import open_tarebook
from bot.channels.converse import FIRST_MOMENT
from bot.channels.script import Script

from .chat import Chat, Door, Said

SHEET_WORDS = ("kcal", "protein", "#", "Today")


def code_of(said: Said) -> str:
    found = re.search(r"/start ([\w-]{22})$", said.text, re.MULTILINE)
    assert found is not None, said
    return found[1]


def invited(host: Chat, guest: Chat) -> Said:
    """What the guest is told when they have come into the host's kitchen."""
    said = guest.say(f"code {code_of(host.say(f'invite {guest.who} to my kitchen'))}")
    if "kitchen_joined" in said.kinds:
        return said
    said.asked(host.who)
    return guest.say("yes")


@pytest.fixture
def ana(door: Door) -> Chat:
    """Has batch 1 (chilli) with 700 g."""
    chat = Chat(door, "ana")
    chat.given("new batch chilli: 1000 g raw chicken breast", "batch 1 cooked 700 g")
    return chat


@pytest.fixture
def bo(door: Door) -> Chat:
    return Chat(door, "bo")


@pytest.fixture
def cy(door: Door) -> Chat:
    """Has batches 1 (lentils) and 2 (rice soup), and is in nobody's kitchen."""
    chat = Chat(door, "cy")
    chat.given("new batch lentils: 300 g dry lentils, 500 g raw carrots", "batch 1 cooked 900 g")
    chat.given("new batch rice soup: 300 g dry white rice, 500 g raw carrots", "batch 2 cooked 900 g")
    return chat


class TestComingIn:
    def test_who_has_nothing_to_bring_is_in_at_once_and_told_what_is_shared(self, ana: Chat, bo: Chat) -> None:
        came = bo.say(f"/start {code_of(ana.say('share my kitchen'))}")
        assert came.one("kitchen_joined")["members"] == 2
        assert "batches and vessels" in came.text
        assert "targets stay private" in came.text
        assert bo.say("batches").one("listing")["count"] == 1
        bo.say("leave the kitchen")
        bo.say("yes")
        assert bo.say("batches").one("listing")["count"] == 0

    @pytest.mark.parametrize("own", ("blue bowl weighs 300 g", "new batch dal: 300 g dry lentils"))
    def test_who_brings_something_is_told_whose_kitchen_it_is_before_anything_changes(
        self, own: str, ana: Chat, bo: Chat
    ) -> None:
        bo.given(own)
        before = bo.say("batches").one("listing")["count"]
        code = code_of(ana.say("share my kitchen"))
        offer = bo.say(f"/start {code}")
        assert offer.one("question")["choices"] == ["yes, share it", "no"]
        assert "Share a kitchen with ana?" in offer.text
        assert "batches and vessels" in offer.text
        assert "targets stay private" in offer.text
        assert bo.say("batches").one("listing")["count"] == before
        bo.say("no")
        assert bo.say("batches").one("listing")["count"] == before

    def test_a_yes_brings_batches_and_vessels_along_under_the_next_numbers(self, ana: Chat, bo: Chat) -> None:
        bo.given(
            "new batch porridge: 500 g dry oats, 500 g whole milk", "batch 1 cooked 900 g", "blue bowl weighs 300 g"
        )
        ana.given("blue bowl weighs 400 g")
        came = invited(ana, bo)
        assert "Your porridge, batch 1, is batch 2 here." in came.text
        assert "Your blue bowl is the other blue bowl here" in came.text
        assert came.others == (("ana", "bo shares the kitchen now, invited by you. Came along: batch 2 (porridge)."),)
        assert ana.say("batches").one("listing")["count"] == 2
        assert "blue bowl: 400 g\nother blue bowl: 300 g" in ana.say("tares").text
        assert ana.say("new batch: 500 g raw carrots").one("batch_opened")["batch"] == 3

    def test_a_code_is_good_once_and_for_seven_days(self, ana: Chat, bo: Chat, cy: Chat) -> None:
        code = code_of(ana.say("share my kitchen", at="2026-03-02T13:00:00+00:00"))
        cy.say(f"code {code}", at="2026-03-09T13:00:00+00:00").refused("expired")
        assert "kitchen_joined" in bo.say(f"code {code}", at="2026-03-09T12:58:00+00:00").kinds
        cy.say(f"code {code}", at="2026-03-03T13:00:00+00:00").refused("nothing was changed")
        bo.say("leave the kitchen")
        bo.say("yes")
        bo.say(f"code {code}").refused("nothing was changed")
        cy.say("code AAAAAAAAAAAAAAAAAAAAAA").refused("mistyped")

    def test_ones_own_code_and_a_yes_after_the_host_has_moved_change_nothing(
        self, ana: Chat, bo: Chat, cy: Chat
    ) -> None:
        bo.given("blue bowl weighs 300 g")
        code = code_of(ana.say("share my kitchen"))
        ana.say(f"code {code}").nothing("already")
        bo.say(f"code {code}").asked()
        invited(cy, ana)
        bo.say("yes").refused("no longer valid")
        assert bo.say("who is in my kitchen?").one("listing")["count"] == 1

    def test_who_leaves_one_household_for_another_takes_nothing_along(self, ana: Chat, bo: Chat, cy: Chat) -> None:
        invited(ana, bo)
        offer = bo.say(f"code {code_of(cy.say('share my kitchen'))}")
        assert "leave the kitchen that you share with ana" in offer.text
        assert ("ana", "bo has left the kitchen. Its batches and vessels stay.") in bo.say("yes").others
        assert "chilli" in ana.say("batches").text
        assert "chilli" not in bo.say("batches").text

    def test_a_question_about_an_old_number_is_not_asked_any_more(self, ana: Chat, bo: Chat) -> None:
        bo.given("new batch porridge: 500 g dry oats, 500 g whole milk", "batch 1 cooked 900 g")
        bo.say("took 1000 g from batch 1").asked("only 900 g")
        assert "Question dropped: Only 900 g is left of batch 1" in invited(ana, bo).text
        bo.say("yes")
        assert "700 g" in ana.left(1)
        assert "900 g" in ana.left(2)

    @pytest.mark.parametrize("text", ("/kitchen", "can you give me a code so my wife shares our kitchen?"))
    def test_alone_in_a_kitchen_one_gets_a_code_at_once(self, ana: Chat, bo: Chat, text: str) -> None:
        assert bo.say(f"/start {code_of(ana.say(text))}").one("kitchen_joined")["members"] == 2

    def test_ordinary_words_with_a_kitchen_in_them_are_no_such_matter(self, ana: Chat) -> None:
        assert ana.say("190 g banana, on the kitchen scale").recorded()["food"] == "banana"
        for text in ("I left the kitchen", "the kitchen is a mess", "share my lunch"):
            assert "kitchen_left" not in ana.say(text).kinds
        asked = ana.say("who's in the kitchen?")
        assert asked.one("listing")["count"] == 1
        assert "/start" not in asked.text


class TestBatchesInCommon:
    def test_what_anybody_takes_is_gone_for_all_and_is_their_own(self, ana: Chat, bo: Chat) -> None:
        invited(ana, bo)
        ana.given("took 300 g from batch 1")
        bo.say("took 500 g from batch 1").asked("only 400 g")
        took = bo.press("400 g, all of it")
        assert took.one("weigh_in")["who"] == "bo"
        assert took.one("batch_closed")["left_g"] == 0
        assert took.others == (("ana", "bo: Batch 1 (chilli) is finished."),)
        assert ana.day()["kcal"] == pytest.approx(bo.day()["kcal"] * 300 / 400, abs=0.02)

    def test_the_others_hear_of_batches_and_of_nobodys_portion(self, ana: Chat, bo: Chat) -> None:
        invited(ana, bo)
        heard = [
            bo.say(text).others
            for text in (
                "new batch soup: 1000 g raw carrots",
                "batch 2 cooked 900 g",
                "split batch 2 into 3 boxes",
                "a box from batch 2",
                "took 200 g from batch 1",
                "the green pot weighs 900 g",
                "change last to 210 g",
                "threw out batch 2",
                "undo",
            )
        ]
        assert heard == [
            (("ana", "bo: Batch 2 (soup) is open, 1,000 g went in."),),
            (("ana", "bo: Batch 2 (soup) weighs 900 g cooked."),),
            (("ana", "bo: Batch 2 (soup) is in 3 boxes of 300 g."),),
            (),
            (),
            (),
            (),
            (("ana", "bo: Batch 2 (soup) was thrown out."),),
            (("ana", "bo: Batch 2 (soup) is open again."),),
        ]

    def test_opening_and_cooking_stand_while_the_others_portions_hang_on_them(self, ana: Chat, bo: Chat) -> None:
        invited(ana, bo)
        bo.given("190 g banana", "took 230 g from batch 1")
        said = ana.say("undo").refused("cooked weight of batch 1", "while others have taken from it")
        assert not any(word in said for word in ("230", "#", "bo"))
        bo.say("undo")
        assert ana.say("undo").one("batch_undone")["what"] == "cooked"
        assert ana.say("undo").one("batch_undone")["what"] == "opening"

    def test_a_correction_counts_everybodys_portions_anew_and_tells_each_of_their_own(
        self, ana: Chat, bo: Chat
    ) -> None:
        invited(ana, bo)
        bo.given("took 230 g from batch 1")
        before = bo.day()["kcal"]
        ana.say("batch 1 cooked 800 g").asked("correct it")
        corrected = ana.say("yes")
        assert not any(word in corrected.text for word in SHEET_WORDS)
        assert corrected.all("weigh_in_changed") == []
        told = [text for who, text in corrected.others if who == "bo"]
        assert any("#1 recounted: 230 g counts as 288 g raw" in text for text in told)
        assert bo.day()["kcal"] == pytest.approx(before * 700 / 800, abs=0.02)

    def test_fat_poured_off_and_put_back_moves_everybodys_portions_and_shows_nobodys(self, ana: Chat, bo: Chat) -> None:
        invited(ana, bo)
        bo.given("took 230 g from batch 1")
        before = bo.day()["kcal"]
        poured = ana.say("poured off 10 g fat from batch 1")
        assert bo.day()["kcal"] == pytest.approx(before - 9 * 10 * 230 / 700, abs=0.02)
        undone = ana.say("undo")
        assert bo.day()["kcal"] == pytest.approx(before, abs=0.02)
        for said in (poured, undone):
            assert not any(word in said.text.replace("90 kcal less", "") for word in SHEET_WORDS)
            assert said.all("weigh_in_changed") == []
            assert any("#1" in text and "230 g counts as 329 g raw" in text for who, text in said.others if who == "bo")

    def test_a_portion_that_waits_goes_on_when_somebody_else_tells_the_cooked_weight(self, ana: Chat, bo: Chat) -> None:
        invited(ana, bo)
        ana.given("new batch soup: 1000 g raw carrots")
        bo.say("took 200 g from batch 2").asked("no cooked weight")
        cooked = ana.say("batch 2 cooked 900 g")
        assert cooked.one("weigh_in")["who"] == "bo"
        assert any("#1 batch 2 (soup), 200 g" in text for who, text in cooked.others if who == "bo")
        assert "200 g" not in cooked.text
        assert "700 g" in ana.left(2)

    def test_an_undone_portion_opens_what_another_one_finished(self, ana: Chat, bo: Chat) -> None:
        invited(ana, bo)
        ana.given("took 300 g from batch 1")
        bo.given("took 400 g from batch 1")
        assert "open again: 300 g left" in ana.say("undo").text
        assert "300 g" in bo.left(1)
        assert ana.say("undo").kinds == ["refused"], "the reopening is not undone, and bo's portion hangs on the rest"


class TestOneNumberOneBatch:
    """A portion is of the batch that it was taken from, whatever that is called where the person is now."""

    def test_a_portion_from_before_keeps_to_its_batch_under_the_new_number(self, ana: Chat, bo: Chat) -> None:
        bo.given("new batch porridge: 500 g dry oats, 500 g whole milk", "batch 1 cooked 900 g")
        bo.say("took 100 g from batch 1", ref=7)
        invited(ana, bo)
        assert bo.say("change last to 120 g").changed()["batch"] == 2
        assert bo.say("same again").recorded()["batch"] == 2
        assert bo.say("delete #2").kinds == ["weigh_in_removed"]
        bo.edit(7, "took 90 g from batch 1").refused("another kitchen")
        assert "700 g" in ana.left(1)
        assert "780 g" in ana.left(2)
        assert "batch 2" in bo.say("today").text

    def test_only_a_yes_makes_a_message_one_from_another_kitchen(self, ana: Chat, bo: Chat) -> None:
        bo.given("new batch porridge: 500 g dry oats, 500 g whole milk", "batch 1 cooked 900 g")
        bo.say("took 100 g from batch 1", ref=7)
        bo.say(f"code {code_of(ana.say('share my kitchen'))}")
        assert bo.edit(7, "took 90 g from batch 1").changed()["as_weighed_g"] == 90
        bo.say("took 80 g from batch 1", ref=8)
        bo.say("yes, share it")
        bo.edit(8, "took 70 g from batch 1").refused("another kitchen")
        assert "700 g" in ana.left(1)

    def test_after_leaving_no_fix_touches_a_batch_of_the_same_number(self, ana: Chat, bo: Chat, cy: Chat) -> None:
        invited(ana, bo)
        bo.say("took 150 g from batch 1", ref=1)
        bo.given("new batch soup: 1000 g raw carrots", "batch 2 cooked 900 g", "the green pot weighs 900 g")
        bo.say("leave the kitchen")
        left = bo.say("yes")
        assert left.others == (("ana", "bo has left the kitchen. Its batches and vessels stay."),)
        bo.say("undo").refused("a kitchen that you have left")
        assert bo.say("took 100 g from batch 1").refused("Batch 1 is not open")
        invited(cy, bo)
        bo.say("change last to 200 g").refused("a kitchen that you have left")
        bo.say("same again").refused("a kitchen that you have left")
        bo.edit(1, "took 250 g from batch 1").refused("another kitchen")
        bo.edit(1, "a photo of lunch")
        bo.say("undo")
        assert ("900 g of 900 g" in cy.left(1), "900 g of 900 g" in cy.left(2)) == (True, True)
        assert "550 g" in ana.left(1)
        assert "900 g of 900 g" in ana.left(2)
        bo.say("delete #1")
        assert "700 g of 700 g" in ana.left(1)
        assert "900 g of 900 g" in cy.left(1)
        bo.say("undo")
        assert "550 g" in ana.left(1)

    def test_a_new_kitchens_numbers_go_on_from_the_old_ones(self, ana: Chat, bo: Chat) -> None:
        invited(ana, bo)
        bo.given("new batch soup: 1000 g raw carrots")
        bo.say("leave the kitchen")
        bo.say("yes")
        assert bo.say("new batch stew: 500 g raw carrots").one("batch_opened")["batch"] == 3
        assert ana.say("new batch pie: 500 g raw carrots").one("batch_opened")["batch"] == 3
        assert "pie" not in bo.say("batches").text

    def test_who_has_left_is_out_of_reach_of_the_kitchens_corrections(self, ana: Chat, bo: Chat) -> None:
        invited(ana, bo)
        bo.given("took 230 g from batch 1")
        ana.say("batch 1 cooked 800 g")
        ana.say("yes")
        kcal = bo.day()["kcal"]
        bo.say("leave the kitchen")
        bo.say("yes")
        ana.say("batch 1 cooked 650 g")
        assert not any(who == "bo" for who, _ in ana.say("yes").others)
        assert "420 g" in ana.left(1)
        ana.say("undo")
        ana.say("undo")
        assert bo.day()["kcal"] == kcal

    def test_the_last_one_keeps_the_batches_and_can_not_leave(self, ana: Chat, bo: Chat) -> None:
        invited(ana, bo)
        ana.say("leave the kitchen")
        ana.say("yes")
        assert "chilli" in bo.say("batches").text
        bo.say("leave the kitchen").nothing("alone")
        assert "chilli" in bo.say("batches").text


@pytest.mark.parametrize("processes", (1, 2))
def test_two_who_take_the_last_grams_at_the_same_moment_never_take_more_than_there_is(
    processes: int, request: pytest.FixtureRequest
) -> None:
    """In one program on SQLite, and in two on one PostgreSQL server."""
    url = "sqlite://" if processes == 1 else request.getfixturevalue("server_database")
    with open_tarebook(url) as first, ExitStack() as more:
        second = first if processes == 1 else more.enter_context(open_tarebook(url))
        _share_and_race(Script(first, "converse"), Script(second, "converse"))


def _share_and_race(ana: Script, bo: Script) -> None:
    def said(script: Script, who: str, text: str) -> str:
        return "\n".join(
            reply.text for to, turn in script.say(who, text, FIRST_MOMENT) if to == who for reply in turn.replies
        )

    said(ana, "ana", "new batch chilli: 5000 g raw chicken breast")
    said(ana, "ana", "batch 1 cooked 4000 g")
    code = re.search(r"/start ([\w-]{22})", said(ana, "ana", "share my kitchen"))
    assert code is not None
    said(bo, "bo", f"code {code[1]}")
    said(bo, "bo", "yes")
    start = threading.Barrier(2)
    heard: dict[str, list[str]] = {"ana": [], "bo": []}

    def eat(script: Script, who: str) -> None:
        start.wait(10)
        heard[who] += [said(script, who, "took 500 g from batch 1") for _ in range(6)]

    eaters = [threading.Thread(target=eat, args=pair) for pair in ((ana, "ana"), (bo, "bo"))]
    for eater in eaters:
        eater.start()
    for eater in eaters:
        eater.join(60)
    everything = [*heard["ana"], *heard["bo"]]
    assert sum("counts as" in text for text in everything) == 8
    assert sum("it is closed" in text for text in everything) == 1
    assert sum("counts as" not in text and "closed" in text for text in everything) == 4
