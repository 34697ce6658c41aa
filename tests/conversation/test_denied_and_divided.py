"""What a clause denies, divides or takes away: the rest of the message stands, and nothing of it counts twice."""

import pytest

from .chat import Chat


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("half of a 180 g fillet of trout, baked; the other half is in the fridge for friday", 90),
        ("the half I took of the salmon was 95 g", 95),
        ("my boy gave up on his banana so i ate the half he left, 58 g", 58),
        ("Grandma didn't finish her boiled egg so I ate the half she left, 24 g", 24),
        ("papaya half, with skin 520g, eat finish skin and seed left 180g", 340),
        ("avocado half 98 g with stone, stone after 22 g", 76),
        ("avocado, the half of one, this came to 68 g", 68),
        ("half of it was 90 g, the cheese pizza", 90),
        ("of one can of tuna in water that has 120 g drained I ate three quarters", 90),
    ),
)
def test_a_share_applies_once(chat: Chat, said: str, grams: float) -> None:
    assert chat.say(said).recorded()["edible_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    ("said", "foods"),
    (
        ("90 g raspberries, 40 g single cream, sugar refused", [90, 40]),
        ("Iceberg lettuce 45 g, dressing none", [45]),
        ("rye bread 70 g, nae butter, we ran out", [70]),
        ("pork loin roasted 128 g, no mustard, since Marvin has gone off with the jar", [128]),
        ("Broccoli, steamed, 95 g; the carrots beside it stayed on the plate", [95]),
        ("salmon baked 120 g, the peas went untouched", [120]),
        ("I did not put the olive oil in the salad today, only tomato 150 g", [150]),
        ("I poured myself 1 cup of 2% milk to go with the cookies, and then found there were no cookies", [244]),
        ("went for crisps but none left so had 30 g peanuts", [30]),
        ("was tempted by a 200 g slice of cheesecake but had an apple, 150 g", [150]),
        ("offered 50 g of chocolate, said no, had 100 g grapes instead", [100]),
        ("Not 60 g of almonds, as I was about to write, but 16 g", [16]),
        ("nobody wanted the last 45 g cheddar and i hate binning food so down it went", [45]),
        ("she didn't want her apple so i had it, 140 g", [140]),
        ("I cannot watch food go to waste, so the 70 g of cooked rice went down too", [70]),
    ),
)
def test_a_denial_belongs_to_its_clause(chat: Chat, said: str, foods: list[float]) -> None:
    records = chat.say(said).records
    assert [e["as_weighed_g"] for e in records] == pytest.approx(foods)
    assert all(e["type"] == "weigh_in" for e in records)


def test_a_core_that_was_not_eaten_is_refuse(chat: Chat) -> None:
    told = chat.say("A pear at 171 g including its core, which I did not eat").recorded()
    assert told["as_weighed_g"] == 171
    assert told["edible_g"] < 171


@pytest.mark.parametrize(
    ("said", "grams"),
    (
        ("I had 120 g of smoked salmon out, put 40 g back untouched, and ate the remainder", 80),
        ("took out 90 g of cheddar, put 25 back, ate the rest", 65),
        ("Clementine, peeled, 68 g, less 19 g of segments to my great-niece", 49),
        ("grapes 150 g, minus 40 g for the toddler", 110),
        ("White rice for the four of us, 620 g cooked, my own share was 210", 210),
        ("mashed potato 250 g, less than yesterday", 250),
        ("took 50 g almonds, put the bag back in the cupboard", 50),
    ),
)
def test_what_was_taken_off_a_weight_is_off_it(chat: Chat, said: str, grams: float) -> None:
    assert chat.say(said).recorded()["as_weighed_g"] == pytest.approx(grams)


@pytest.mark.parametrize(
    "said",
    (
        "peanut butter for the lunchboxes 60 g, none for me",
        "cheddar 80 g for the school sandwiches, i had none",
        "passenger give me 2 bananas, I give back to him",
        "she handed me 3 cookies, i handed them right back",
        "I did not eat the 100 g of rice",
        "my son didn't eat his 200 g of rice",
        "i hate wasting food, 40 g of cheddar went in the bin",
        "the other half of the 200 g steak is for tomorrow",
        "i thought about having 200 g of rice",
        "tempted by 100 g of cake but no",
        "did I add 20 g of butter?",
    ),
)
def test_what_was_not_eaten_is_nobodys_record(chat: Chat, said: str) -> None:
    assert not chat.say(said).records


@pytest.mark.parametrize(
    "text",
    (
        "I ate 130 g of boiled aubergine. The 50 g of hummus beside it remains untouched.",
        "130 g boiled aubergine; the 50 g hummus has not been touched",
        "130 g boiled aubergine, and 50 g hummus but I sent it back",
    ),
)
def test_what_lay_there_untouched_is_not_eaten(chat: Chat, text: str) -> None:
    assert [event["food"] for event in chat.say(text).records] == ["eggplant"]


@pytest.mark.parametrize(
    "text", ("had 60 g cheddar, the knife remains untouched", "60 g cheddar, the crackers remain untouched")
)
def test_what_else_lay_there_untouched_takes_nothing_off(chat: Chat, text: str) -> None:
    assert chat.say(text).records[0]["food"] == "cheddar cheese"
