"""Batches: opened raw, weighed cooked, fat poured off; named by number or by name."""

import pytest

from .chat import Chat
from .conftest import Meet

# USDA SR28, kcal per 100 g by NDB number: 23572 ground beef 80/20 raw, 20044 white rice dry
BEEF_KCAL, RICE_DRY_KCAL = 2.54, 3.65
FAT_KCAL = 9  # kcal per gram of fat (21 CFR 101.9(c)(1)(i))
OUNCE_G = 28.349523125  # NIST Handbook 44, appendix C


def test_a_batch_opens_with_its_ingredients_raw(chat: Chat) -> None:
    said = chat.say("batch chilli: 800 g raw ground beef 80/20, 400 g canned tomatoes")
    opened = said.one("batch_opened")
    assert (opened["batch"], opened["name"], opened["raw_g"]) == (1, "chilli", 1200)
    assert {item["food"]: item["raw_g"] for item in opened["ingredients"]} == {
        "ground beef 80/20": 800,
        "canned tomatoes": 400,
    }
    assert "1,200 g" in said.text


def test_a_batch_without_a_name_is_called_after_its_main_ingredient(chat: Chat) -> None:
    assert chat.say("new batch: 200 g raw carrot, 1200 g raw chicken breast").one("batch_opened")["name"] == (
        "chicken breast"
    )


def test_batches_count_from_one_for_each_kitchen(chat: Chat) -> None:
    assert [chat.say("batch: 500 g dry rice").one("batch_opened")["batch"] for _ in range(3)] == [1, 2, 3]


def test_an_unknown_ingredient_counts_by_its_weight_and_is_asked_about_once(chat: Chat) -> None:
    said = chat.say("batch chilli: 800 g zorblax, 400 g canned tomatoes")
    assert said.one("batch_opened")["raw_g"] == 1200
    assert "weight only" in said.choices
    assert chat.say("batches").one("listing")["count"] == 1
    changed = chat.say("ground beef 80/20").one("batch_changed")
    assert [part["food"] for part in changed["ingredients"]] == ["ground beef 80/20", "canned tomatoes"]


def test_the_cooked_weight_gives_yield_and_raw_factor(chat: Chat) -> None:
    chat.given("batch: 1250 g raw chicken breast")
    said = chat.say("batch 1 cooked 905 g")
    cooked = said.one("batch_cooked")
    assert cooked["cooked_g"] == 905
    assert cooked["yield"] == pytest.approx(905 / 1250, abs=0.005)
    assert cooked["raw_factor"] == pytest.approx(1250 / 905, abs=0.005)
    assert "905 g" in said.text


@pytest.mark.parametrize(
    "text",
    (
        "batch 1 cooked 905 g",
        "batch 1 is 905 g cooked",
        "batch 1 weighs 905 g cooked",
        "the chilli came out at 905 g",
        "cooked weight of batch 1: 905 g",
        "chilli cooked 905 g",
        "batch 1 cooked: 905",
    ),
)
def test_the_cooked_weight_is_understood_however_it_is_said(chat: Chat, text: str) -> None:
    chat.given("batch chilli: 1250 g raw chicken breast")
    assert chat.say(text).one("batch_cooked")["cooked_g"] == 905


def test_the_cooked_weight_in_a_known_pot_counts_without_it(chat: Chat) -> None:
    chat.given("tare blue pot 1432 g", "batch: 1250 g raw chicken breast")
    assert chat.say("batch 1 cooked 2337 g in the blue pot").one("batch_cooked")["cooked_g"] == 905


def test_a_gain_in_a_batch_of_one_meat_asks_before_saving(chat: Chat) -> None:
    chat.given("batch: 1000 g raw chicken breast")
    chat.say("batch 1 cooked 1040 g").asked("without the pot")
    assert chat.say("batches").text.count("not weighed cooked") == 1
    assert chat.say("yes").one("batch_cooked")["cooked_g"] == 1040


def test_a_no_to_the_doubt_saves_nothing(chat: Chat) -> None:
    chat.given("batch: 1000 g raw chicken breast")
    chat.say("batch 1 cooked 1040 g").asked()
    chat.say("no").nothing()
    chat.say("took 200 g from batch 1").asked("cooked weight")


def test_a_new_number_in_answer_to_the_doubt_is_the_cooked_weight(chat: Chat) -> None:
    chat.given("batch: 1000 g raw chicken breast")
    chat.say("batch 1 cooked 1040 g").asked()
    assert chat.say("740 g").one("batch_cooked")["cooked_g"] == 740


@pytest.mark.parametrize("cooked_g", (150, 1400))
def test_a_yield_far_from_the_published_one_asks(chat: Chat, cooked_g: int) -> None:
    # Canadian Nutrient File 567: roasted chicken keeps 78 % of its raw weight; half and 1.5 times that are the rim
    chat.given("batch: 1000 g raw chicken breast")
    chat.say(f"batch 1 cooked {cooked_g} g").asked()


def test_a_batch_with_water_may_gain_weight_and_one_without_asks(chat: Chat) -> None:
    chat.given("batch soup: 500 g raw carrot, 300 g raw potatoes, 900 g water")
    assert chat.say("batch 1 cooked 1500 g").one("batch_cooked")["cooked_g"] == 1500
    chat.given("batch stew: 500 g raw carrot, 300 g raw potatoes")
    chat.say("batch 2 cooked 1500 g").asked("no water")
    assert chat.press("yes").one("batch_cooked")["cooked_g"] == 1500


def test_a_second_cooked_weight_asks_and_recounts_the_portions(chat: Chat) -> None:
    chat.given("batch: 1000 g dry rice", "batch 1 cooked 2500 g", "took 500 g from batch 1")
    chat.say("batch 1 cooked 2800 g").asked("correct it")
    said = chat.press("yes")
    assert said.one("batch_cooked")["cooked_g"] == 2800
    changed = said.one("weigh_in_changed")
    assert (changed["was"], changed["as_weighed_g"]) == (1, 500)
    assert changed["basis_g"] == pytest.approx(500 * 1000 / 2800, abs=0.006)
    assert changed["kcal"] == pytest.approx(500 * 1000 / 2800 * RICE_DRY_KCAL, abs=0.05)
    assert chat.day()["kcal"] == pytest.approx(changed["kcal"], abs=0.02)


def test_a_no_to_the_correction_keeps_the_first_weight(chat: Chat) -> None:
    chat.given("batch: 1000 g dry rice", "batch 1 cooked 2500 g")
    chat.say("batch 1 cooked 2800 g").asked()
    chat.press("no").nothing()
    assert "2,500 g" in chat.left(1)


def test_fat_that_is_poured_off_takes_its_energy_and_leaves_the_basis(chat: Chat) -> None:
    chat.given("batch: 1000 g raw ground beef 80/20", "batch 1 cooked 650 g", "took 200 g from batch 1")
    before = chat.events("weigh_in")[0]
    said = chat.say("poured off 120 g of fat from batch 1")
    assert said.one("batch_drained") == {"type": "batch_drained", "batch": 1, "fat_g": 120}
    after = said.one("weigh_in_changed")
    assert after["basis_g"] == before["basis_g"] == pytest.approx(200 * 1000 / 650, abs=0.006)
    assert before["kcal"] == pytest.approx(200 / 650 * 1000 * BEEF_KCAL, abs=0.05)
    assert after["kcal"] == pytest.approx(200 / 650 * (1000 * BEEF_KCAL - 120 * FAT_KCAL), abs=0.05)


def test_fat_poured_off_in_ounces_is_a_mass_and_goes_to_the_only_open_batch(chat: Chat) -> None:
    chat.given("batch: 1000 g raw ground beef 80/20")
    assert chat.say("poured off 2 oz of fat").one("batch_drained")["fat_g"] == pytest.approx(2 * OUNCE_G, abs=0.006)


def test_pouring_off_with_several_open_asks_which_batch(chat: Chat) -> None:
    chat.given("batch chilli: 1000 g raw ground beef 80/20", "batch stew: 900 g raw ground beef 80/20")
    chat.say("poured off 2 oz of fat").asked("which batch")
    assert chat.press("stew").one("batch_drained")["batch"] == 2


def test_more_fat_than_the_batch_weighed_is_refused(chat: Chat) -> None:
    chat.given("batch: 500 g raw ground beef 80/20")
    chat.say("poured off 600 g of fat").refused("500 g")


@pytest.mark.parametrize(
    "text",
    (
        "batch chilli: 30 kg raw ground beef 80/20",
        "batch chilli: 20 kg raw ground beef 80/20, 10 kg canned tomatoes",
        "batch chilli: 0 g raw ground beef 80/20",
        "batch chilli: -5 g raw ground beef 80/20",
    ),
)
def test_an_impossible_batch_is_refused(chat: Chat, text: str) -> None:
    chat.say(text).refused()
    assert chat.say("batches").one("listing")["count"] == 0


@pytest.mark.parametrize("weight", ("26 kg", "0 g", "-100 g"))
def test_an_impossible_cooked_weight_is_refused(chat: Chat, weight: str) -> None:
    chat.given("batch: 1000 g dry rice")
    chat.say(f"batch 1 cooked {weight}").refused()


@pytest.mark.parametrize(
    "text",
    (
        "took 200 g from batch 1",
        "took 200 g from #1",
        "200 g from the chilli",
        "200 g chilli",
        "batch 1 200 g",
        "200 g of batch 1",
        "took 200 from the chilli",
        "had 200 g of the chilli",
        "200 g from the chili",
        "ate 200g from batch 1",
        "took 200 batch 1",
    ),
)
def test_a_batch_goes_by_its_number_or_its_name(chat: Chat, text: str) -> None:
    chat.given("batch chilli: 1000 g raw ground beef 80/20, 400 g canned tomatoes", "batch 1 cooked 1000 g")
    recorded = chat.say(text).recorded()
    assert (recorded["batch"], recorded["food"], recorded["as_weighed_g"]) == (1, "chilli", 200)


def test_several_open_batches_of_one_name_ask_which(chat: Chat) -> None:
    for _ in range(2):
        chat.given("batch chilli: 1000 g raw ground beef 80/20, 400 g canned tomatoes")
    chat.given("batch 1 cooked 1000 g", "batch 2 cooked 1100 g")
    chat.say("took 200 g from the chilli").asked("which batch")
    assert chat.press("batch 2").recorded()["batch"] == 2


def test_the_exact_name_beats_a_part_of_one(chat: Chat) -> None:
    chat.given("batch chilli verde: 1000 g raw ground beef 80/20, 400 g raw carrot")
    chat.given("batch chilli: 1000 g raw ground beef 80/20, 400 g canned tomatoes")
    chat.given("batch 1 cooked 1000 g", "batch 2 cooked 1000 g")
    assert chat.say("took 200 g from the chilli").recorded()["batch"] == 2
    assert chat.say("took 200 g from the chilli verde").recorded()["batch"] == 1


def test_a_food_that_a_batch_is_also_called_asks_unless_the_message_says_so(chat: Chat) -> None:
    chat.given("batch: 500 g dry rice", "batch 1 cooked 1400 g")
    chat.say("200 g white rice").asked("batch 1")
    assert chat.press("batch 1").recorded()["batch"] == 1
    for text in ("took 210 g from the white rice", "220 g of the white rice", "230 g from batch 1"):
        assert chat.say(text).recorded()["batch"] == 1


def test_a_day_word_within_a_name_sets_no_time(chat: Chat) -> None:
    chat.given("batch sunday roast: 2000 g raw chicken breast", "batch 1 cooked 1500 g")
    recorded = chat.say("took 250 g from the sunday roast").recorded()
    assert (recorded["batch"], recorded["day"]) == (1, "2026-03-02")
    recorded = chat.say("took 150 g sunday roast yesterday").recorded()
    assert (recorded["batch"], recorded["day"]) == (1, "2026-03-01")


def test_no_such_batch_is_refused_with_a_list_of_the_open_ones(chat: Chat) -> None:
    chat.given("batch chilli: 1000 g raw ground beef 80/20")
    chat.say("took 200 g from batch 7").refused("batch 1", "chilli")
    assert not chat.say("took 200 g from the quxfrob").records


@pytest.mark.parametrize("number", ("0", "99", str(2**31), str(2**63), str(2**64), "9" * 400))
def test_a_batch_number_beyond_all_batches_is_refused(chat: Chat, number: str) -> None:
    said = chat.say(f"took 200 g from batch {number}")
    assert not said.records
    assert "batch" in said.text.lower()


def test_batches_are_listed_with_what_is_left(chat: Chat) -> None:
    chat.given("batch chilli: 1000 g raw ground beef 80/20", "batch 1 cooked 700 g", "batch: 500 g dry rice")
    chat.given("took 200 g from batch 1")
    said = chat.say("batches")
    assert said.one("listing") == {"type": "listing", "of": "batches", "count": 2}
    assert "500 g left of 700 g" in said.text


def test_batches_are_each_kitchens_own(chat: Chat, meet: Meet) -> None:
    chat.given("batch chilli: 1000 g raw ground beef 80/20", "batch 1 cooked 700 g")
    meet().say("took 200 g from batch 1").refused()


def test_an_undrained_batch_of_fat_meat_is_set_beside_the_tables_cooked_entry(chat: Chat) -> None:
    chat.given("batch: 1000 g raw ground beef 80/20")
    said = chat.say("batch 1 cooked 650 g")
    # SR28: 254 kcal raw (23572) over a yield of 0.65 is 391 kcal; the pan-browned row (23575) has 272
    assert "391" in said.text
    assert "272" in said.text


def test_a_refusal_says_that_nothing_is_recorded_whatever_the_batch_is_called(chat: Chat) -> None:
    chat.given("new batch recorded soup: 900 g raw carrots", "batch 1 cooked 800 g")
    chat.say("threw out 900 g of batch 1").refused(
        "900 g can't be taken from batch 1 (recorded soup)", "Nothing is recorded."
    )


CHILLI = "new batch chilli: 800 g raw ground beef 80/20, 400 g canned tomatoes"


@pytest.mark.parametrize("text", ("2 eggs", "apple 180 g", "1 slice of bread", "20 g walnuts"))
def test_what_is_mostly_eaten_as_it_is_does_not_go_into_a_pot_without_a_word(chat: Chat, text: str) -> None:
    chat.given(CHILLI)
    said = chat.say(text)
    assert said.one("weigh_in")["batch"] is None
    assert said.text.startswith("Recorded as eaten, not added to batch 1 (chilli).")


@pytest.mark.parametrize("text", ("150 g onion", "10 g olive oil", "400 g chicken stock", "200 g kidney beans"))
def test_what_is_mostly_cooked_with_goes_in_and_the_reply_says_how_to_take_it_out(chat: Chat, text: str) -> None:
    chat.given(CHILLI)
    said = chat.say(text)
    assert said.records[0]["type"] == "batch_changed"
    assert said.text.startswith("Batch 1 (chilli):")
    assert "I ate it" in said.text
    moved = chat.say("I ate it")
    assert moved.one("batch_undone")["batch"] == 1
    assert len(moved.all("weigh_in")) + len(moved.all("weigh_in_open")) == 1
    assert "1,200 g" in chat.say("what's in batch 1?").text


def test_a_weigh_in_beside_a_pot_goes_in_when_it_is_said(chat: Chat) -> None:
    chat.given(CHILLI)
    chat.say("2 eggs")
    said = chat.say("in the pot")
    assert said.one("weigh_in_removed")["id"] == 1
    assert said.one("batch_changed")["raw_g"] == 1300
    chat.say("undo")
    assert "1,200 g" in chat.say("what's in batch 1?").text


@pytest.mark.parametrize("words", ("and 2 eggs", "add 2 eggs", "+ 2 eggs"))
def test_a_word_for_the_pot_needs_no_asking(chat: Chat, words: str) -> None:
    chat.given(CHILLI)
    assert chat.say(words).one("batch_changed")["raw_g"] == 1300
    assert "ate it" not in chat.heard[-1].text


def test_line_by_line_every_food_is_an_ingredient(chat: Chat) -> None:
    chat.say("new batch omelette")
    for line, raw_g in (("3 eggs", 150), ("30 g cheddar", 180), ("80 g apple", 260)):
        said = chat.say(line)
        assert said.one("batch_changed")["raw_g"] == raw_g
        assert "ate it" not in said.text


def test_minutes_later_or_with_a_word_for_eating_it_is_eaten(chat: Chat) -> None:
    chat.say(CHILLI, at="2026-03-02T12:00:00+00:00")
    assert chat.say("had 150 g raw onion").recorded()["food"] == "onion"
    assert chat.say("150 g raw carrot", at="2026-03-02T12:40:00+00:00").recorded()["food"] == "carrot"
