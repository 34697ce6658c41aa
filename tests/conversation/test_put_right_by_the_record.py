"""Corrections, deletions, body weights, labels and estimates in the words of people nobody met before."""

import pytest

from .chat import Chat

RECORDED = (
    "saturday lunch 240 g lentil soup, 70 g rye bread",
    "yesterday breakfast 60 g muesli, 150 g whole milk",
    "yesterday dinner 160 g roast pork loin, 190 g boiled potatoes, 85 g boiled carrots",
    "yesterday evening 2 cans of beer",
    "bw 78.1 kg",
    "breakfast 45 g dry oats, 210 g skim milk, 14 g honey",
    "155 g grilled salmon, 200 g cooked white rice",
)
SOUP, RYE, MUESLI, PORK, POTATO, CARROT, BEER, HONEY, SALMON, RICE = 1, 2, 3, 5, 6, 7, 8, 11, 12, 13


@pytest.mark.parametrize(
    ("said", "changes"),
    (
        ("found the slip from saturday, soup 204, you've 240", {SOUP: 204}),
        ("scale photo says the pork last night was only about 130g", {PORK: 130}),
        ("carrots yesterday - written down as 85, real figure 58", {CARROT: 58}),
        ("mixup with yesterdays potatoes!! its 109 and i sent 190", {POTATO: 109}),
        ("cat pinched 25g of my salmon so mine comes to 130", {SALMON: 130}),
        ("dog got a bit of the salmon, 15 g, which leaves me with 140", {SALMON: 140}),
        ("one of last nights beers was my brother's, i drank the other", {BEER: 356}),
        ("yesterday's pork and potatoes need changing, pork to 140 g, potatoes to 210 g", {PORK: 140, POTATO: 210}),
        ("edits for sunday: muesli 55, pork 150", {MUESLI: 55, PORK: 150}),
        ("saturday: soup 260 rather than 240, bread 65 rather than 70", {SOUP: 260, RYE: 65}),
        ("just looked at my notes again and the honey this morning is 19 g", {HONEY: 19}),
        ("left about 40 g of that rice on my plate", {RICE: 160}),
        ("the rice is 20 g too much", {RICE: 180}),
        ("turns out my scale had a fork on it, so take 20 g off the rice", {RICE: 180}),
        ("rye bread on saturday: 80 g is what it really weighed", {RYE: 80}),
        ("could you set last night's carrots to 95 g", {CARROT: 95}),
        ("the rice total was 360", {RICE: 205}),
    ),
)
def test_the_record_tells_what_is_put_right(chat: Chat, said: str, changes: dict[int, float]) -> None:
    chat.given(*RECORDED)
    records = chat.say(said).records
    assert {event["type"] for event in records} == {"weigh_in_changed"}, records
    assert {event["id"]: round(event["as_weighed_g"]) for event in records} == changes


@pytest.mark.parametrize(
    ("said", "gone"),
    (
        ("the muesli yesterday never happened, please get it off my list", {MUESLI}),
        ("carrots off last night's dinner please, they ended up in the compost", {CARROT}),
        ("that pork yesterday was my dad's plate, so it shouldn't be on mine", {PORK}),
        ("muesli wasn't mine yesterday, kindly remove it", {MUESLI}),
        ("nope, forget I said that, didn't eat any of it", {SALMON, RICE}),
        ("ignore that last message, it never got eaten", {SALMON, RICE}),
        ("scratch all that, the plate went back to the kitchen", {SALMON, RICE}),
        ("i take that back, haven't touched it", {SALMON, RICE}),
    ),
)
def test_what_was_not_eaten_is_taken_off(chat: Chat, said: str, gone: set[int]) -> None:
    chat.given(*RECORDED)
    records = chat.say(said).records
    assert {event["type"] for event in records} == {"weigh_in_removed"}, records
    assert {event["id"] for event in records} == gone


@pytest.mark.parametrize(
    ("said", "kg"),
    (
        ("stepped on at 77.9", 77.9),
        ("77.4 on the scales today, me not food", 77.4),
        ("bathroom scales said 77.9 this morning", 77.9),
        ("hopped on the scales, 11 st 4, half a pound less than friday", 71.668),
        ("12st 4lb today. up 1lb on last week", 78.018),
        ("77.6 after the run, that's my weight", 77.6),
    ),
)
def test_a_body_weight_is_heard_beside_remarks(chat: Chat, said: str, kg: float) -> None:
    chat.given(*RECORDED)
    # 1 lb is 0.45359237 kg exactly, 1 stone is 14 lb: Weights and Measures Act 1985, Schedule 1.
    assert chat.say(said).one("body_weight")["kg"] == pytest.approx(kg, abs=0.002)


@pytest.mark.parametrize(
    "said",
    (
        "back of the protein tub, for a scoop (28 g): protein 22, carbs 2.5, fat 1.1, and it's 108 kcal",
        "protein tub label reads 108 kcal for 1 scoop which is 28 g, protein 22, carbs 2.5, fat 1.1",
    ),
)
def test_a_label_is_put_together_from_its_parts(chat: Chat, said: str) -> None:
    heard = chat.say(said)
    assert heard.kinds == ["label_saved"], heard
    label = heard.records[0]
    # The event holds figures per 100 g, rounded to 0.01.
    per_100 = (label["kcal"], label["protein_g"], label["fat_g"])
    assert label["serving_g"] == 28
    assert [value * 28 / 100 for value in per_100] == pytest.approx([108, 22, 1.1], abs=0.01)


@pytest.mark.parametrize(
    ("said", "kcal"),
    (
        ("lunch today was a tuna sandwich from the shop, pack says 412 kcal", 412),
        ("croissant at the station this morning, the sign had it at 310 kcal", 310),
    ),
)
def test_a_printed_energy_counts_at_a_meal(chat: Chat, said: str, kcal: float) -> None:
    assert chat.say(said).recorded()["kcal"] == pytest.approx(kcal, rel=0.01)


@pytest.mark.parametrize(
    "said",
    (
        "should I have had less rice yesterday, like 150 g?",
        "should I delete the muesli?",
        "scrap that idea of dieting",
        "don't scrap that",
        "she told me the salmon was 130 g not 155",
        "note to self: buy 200 g salmon and 180 g rice",
        "only 150 g of the rice left in the bag",
        "the kids had the rice yesterday, 200 g",
        "my brother had one beer last night",
        "the kids had pizza for dinner, 800 kcal",
        "the menu said 800 kcal so I skipped dinner",
        "stood on the scales with the dog, 94.2",
        "my target on the scales is 74",
        "the parcel on the scales was 31.5",
        "I might change the rice to 150 g tomorrow",
        "wish I had only had 150 g of the rice",
    ),
)
def test_what_only_sounds_like_it_records_nothing(chat: Chat, said: str) -> None:
    chat.given(*RECORDED)
    assert not chat.say(said).records


@pytest.mark.parametrize(
    ("said", "food"),
    (
        ("dinner: the potatoes from yesterday, 120 g", "potato"),
        ("yesterday I also had 30 g cheddar", "cheddar cheese"),
        ("another 50 g carrots yesterday", "carrot"),
    ),
)
def test_food_eaten_besides_is_new(chat: Chat, said: str, food: str) -> None:
    chat.given(*RECORDED)
    assert chat.say(said).recorded()["food"] == food
