"""What is said about what stands on record, in the words of people nobody met before; the record decides."""

import pytest

from .chat import MONDAY_NOON, Chat

TODAY = MONDAY_NOON[:10]
RECORDED = (
    "saturday lunch 76 g rye bread, 20 g swiss cheese",
    "saturday dinner 180 g boiled potatoes, 210 g cooked chicken breast",
    "yesterday lunch 20 g swiss cheese",
    "yesterday evening 2 cans of beer",
    "yesterday evening 2 digestive biscuits",
    "breakfast 50 g dry oats, 170 g whole milk",
    "180 g pepperoni pizza",
)
RYE, POTATO, CHICKEN, SWISS, BEER, DIGESTIVE, OATS, MILK, PIZZA = 1, 3, 4, 5, 6, 7, 8, 9, 10


@pytest.mark.parametrize(
    ("said", "changes"),
    (
        ("pizza ought've been 214g", {PIZZA: 214}),
        ("pizza musta been 214 g, the scale lied", {PIZZA: 214}),
        ("spuds on saturday, 195g", {POTATO: 195}),
        ("For Saturday's chicken please take 190 g", {CHICKEN: 190}),
        ("regarding the potatoes of saturday, I would prefer to say 150 grams", {POTATO: 150}),
        ("I said 2 digestives yesterday, ended up 3 of them, 45 g altogether", {DIGESTIVE: 45}),
        ("12 g of that pizza never got eaten", {PIZZA: 168}),
        ("didnae finish the pizza, 12 g back in the box", {PIZZA: 168}),
        ("about those two beers last night, to tell the truth I drank just one", {BEER: 356}),
        ("the beers from last night were not both mine, only one", {BEER: 356}),
        ("my pal had one of the two beers last night so I'd only the one", {BEER: 356}),
        ("scratch that, the first one was right, saturday's potatoes were 200 g", {POTATO: 200}),
    ),
)
def test_the_amount_is_put_right(chat: Chat, said: str, changes: dict[int, float]) -> None:
    chat.given(*RECORDED)
    records = chat.say(said).records
    assert {event["type"] for event in records} == {"weigh_in_changed"}, records
    assert {event["id"]: round(event["as_weighed_g"]) for event in records} == changes


@pytest.mark.parametrize(
    ("said", "food"),
    (
        ("said swiss yesterday but twas gruyere", "gruyere"),
        ("I told you swiss but the lunch cheese yesterday was really cheddar", "cheddar cheese"),
        ("yesterday lunch cheese not swiss, gouda it was", "gouda"),
    ),
)
def test_the_food_is_put_right(chat: Chat, said: str, food: str) -> None:
    chat.given(*RECORDED)
    (event,) = chat.say(said).records
    assert (event["type"], event["id"], event["food"]) == ("weigh_in_changed", SWISS, food)


@pytest.mark.parametrize(
    ("said", "gone"),
    (
        ("delete 1 and 2, that was the young fella mucking about with me phone", {1, 2}),
        ("get rid of numbers 5 and 6 would you", {5, 6}),
        ("remove entries 1, 3, 4 because they are of my roommate", {1, 3, 4}),
        ("sorry, could you delete 1 and 3 they were typed by my toddler", {1, 3}),
        ("the last one isnae mine, it's ma brother's", {PIZZA}),
        ("I do apologise, the last one was my wife's and not mine", {PIZZA}),
        ("would you be a love and take off that last one, it was Doris's", {PIZZA}),
    ),
)
def test_all_that_is_named_is_deleted(chat: Chat, said: str, gone: set[int]) -> None:
    chat.given(*RECORDED)
    records = chat.say(said).records
    assert {event["type"] for event in records} == {"weigh_in_removed"}, records
    assert {event["id"] for event in records} == gone


@pytest.mark.parametrize(
    "said",
    (
        "please delete my breakfast of today, it was my father's",
        "get rid of yesterday's lunch, it was my colleague's",
    ),
)
def test_a_meal_is_deleted_after_a_question(chat: Chat, said: str) -> None:
    chat.given(*RECORDED)
    chat.say(said).asked()


@pytest.mark.parametrize(
    "said",
    (
        "next time the pizza should be 150 g",
        "pizza should be 150 g next time",
        "should the pizza be 214 g?",
        "do not delete 1 and 2",
        "should I delete 1 and 2?",
        "don't take it off, it was mine, not Harold's",
        "the last one was mine and not Harold's, keep it",
        "I only said swiss because provolone was sold out",
        "she had exactly the same again",
        "I felt exactly the same again",
        "I'd love the very same again",
        "I could eat the same again",
        "hmm no wait leave the pizza as is",
        "keep the oats as they were",
        "I will log the usual tea later",
        "usual lunch tomorrow then",
    ),
)
def test_what_changes_nothing_records_nothing(chat: Chat, said: str) -> None:
    chat.given(*RECORDED)
    assert not chat.say(said).records


@pytest.mark.parametrize(
    "said",
    (
        "And then, I am rather ashamed to say, I had exactly the same again.",
        "and then, shame on me, I went and had the very same once more",
        "I've just had exactly that again",
        "had the same again, couldn't resist",
        "went back for exactly the same amount",
    ),
)
def test_the_last_is_eaten_once_more(chat: Chat, said: str) -> None:
    chat.given("28 g walnuts")
    event = chat.say(said).recorded()
    assert (event["food"], event["as_weighed_g"], event["day"]) == ("walnuts", 28, TODAY)


@pytest.mark.parametrize(
    ("said", "foods"),
    (
        ("usual lunch eaten", {"rye bread", "swiss cheese"}),
        ("Later start this morning, lunch as usual", {"rye bread", "swiss cheese"}),
        ("slept in. lunch the way it always is", {"rye bread", "swiss cheese"}),
        ("lunch done, nothing out of the ordinary", {"rye bread", "swiss cheese"}),
        ("ma usual rye bread but nae cheese the day", {"rye bread"}),
        ("as always: rye bread together with swiss", {"rye bread", "swiss cheese"}),
    ),
)
def test_what_is_usual_is_repeated(chat: Chat, said: str, foods: set[str]) -> None:
    chat.given(*(f"{day} lunch 76 g rye bread, 20 g swiss cheese" for day in ("friday", "saturday", "yesterday")))
    records = chat.say(said).records
    assert {event["type"] for event in records} == {"weigh_in"}, records
    assert {event["food"] for event in records} == foods


POT = "new batch mince: 500 g raw chicken thigh, 160 g onion, 20 g olive oil, 400 g canned tomatoes"


@pytest.mark.parametrize(
    ("said", "raw"),
    (
        ("I logged the onion in the mince wrong, should be 190 g and not 160, also for what I ate yesterday", 1110),
        ("I see now on the tomato tin: into the mince went 300 grams, not 400. Please correct what is eaten", 980),
        ("tinned toms in that mince, turns out 300 g drained, no 400", 980),
        ("mince recipe fix: onion 190 g instead of 160 g", 1110),
    ),
)
def test_a_weight_on_record_in_the_pot_is_the_old_one(chat: Chat, said: str, raw: float) -> None:
    chat.given(POT, "mince done, 900 g", "300 g of the mince")
    records = chat.say(said).records
    assert {event["type"] for event in records} == {"batch_changed", "weigh_in_changed"}, records
    assert next(event["raw_g"] for event in records if event["type"] == "batch_changed") == raw


@pytest.mark.parametrize("said", ("my sister's mince had 190 g onion, not 160", "next mince: 190 g onion not 160"))
def test_another_pot_is_not_put_right(chat: Chat, said: str) -> None:
    chat.given(POT, "mince done, 900 g", "300 g of the mince")
    assert not chat.say(said).records


@pytest.mark.parametrize("said", ("that was cooked honey", "cooked, sugar"))
def test_a_food_may_address_somebody(chat: Chat, said: str) -> None:
    chat.say("300 g rice")
    event = chat.say(said).one("weigh_in")
    assert (event["food"], event["state"]) == ("white rice", "cooked")
