"""A batch of which several had some: each quantity goes to the one who had it, and only the writer's is a portion."""

from __future__ import annotations

from datetime import timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.language.portion_meanings import GiveAway
from bot.language.surroundings import KnownBatch
from bot.language.told import Item

from .kitchen import KITCHENS, NOON, meant, of_the_kitchen, told

HOT = NOON - timedelta(hours=1)
BEANS = KnownBatch(
    1, "pinto beans", cooked=True, boxes=0, raw_g=1275, left_g=2551, spoken=True, ingredients=("pinto beans", "bacon")
)
SOUP = KnownBatch(1, "vegetable beef soup", cooked=True, boxes=0, raw_g=2821, left_g=2340, spoken=True)
TAMALES = KnownBatch(
    1, "tamales", cooked=True, boxes=0, raw_g=2892, left_g=3742, pieces=44, piece="tamale", spoken=True
)
LOAF = KnownBatch(1, "banana loaf", cooked=True, boxes=0, raw_g=919, left_g=838, pieces=12, piece="slice", spoken=True)
FLAPJACKS = KnownBatch(
    1, "flapjacks", cooked=True, boxes=0, raw_g=750, left_g=735, pieces=15, piece="flapjack", spoken=True
)
PIE = KnownBatch(1, "cottage pie", cooked=True, boxes=0, raw_g=2260, left_g=1285)
TACO = KnownBatch(1, "taco meat", cooked=True, boxes=0, raw_g=1928, left_g=1417, spoken=True)
ADOBO = KnownBatch(1, "adobo", cooked=True, boxes=0, raw_g=980, left_g=902, spoken=True)
CHILI = KnownBatch(1, "chili", cooked=True, boxes=0, raw_g=2800, left_g=2000, spoken=True)
OLD_DAL = KnownBatch(1, "tadka dal", cooked=True, boxes=0, raw_g=2100, left_g=300)
NEW_DAL = KnownBatch(5, "tadka dal", cooked=True, boxes=0, raw_g=2255, left_g=1640, spoken=True)
KITCHENS.update(
    {
        "beans": (BEANS,),
        "beef soup": (SOUP,),
        "tamales": (TAMALES,),
        "loaf": (LOAF,),
        "flapjacks": (FLAPJACKS,),
        "pie": (PIE,),
        "taco": (TACO,),
        "adobo": (ADOBO,),
        "spoken": (CHILI,),
        "two dals": (OLD_DAL, NEW_DAL),
        "hot flapjacks": (KnownBatch(1, "flapjacks", cooked=False, raw_g=750, cooking_since=HOT),),
        "hot loaf": (KnownBatch(1, "banana loaf", cooked=False, raw_g=919, cooking_since=HOT),),
        "hot tamales": (KnownBatch(1, "tamales", cooked=False, raw_g=2892, cooking_since=HOT),),
    }
)


@pytest.mark.parametrize(
    ("kitchen", "text", "meant"),
    (
        ("beans", "my nephew stopped by and helped himself to 12 oz of beans for his family", ["give 340.2 g"]),
        (
            "beans",
            "the lady from church came with a bowl and I filled it for her, 18 oz of the beans",
            ["give 510.3 g"],
        ),
        ("beans", "the cat licked up an ounce of the beans", ["give 28.35 g"]),
        ("beans", "Lalo is back for more of my beans, 9 oz he took", ["give 255.1 g"]),
        ("beans", "beans: 10 oz to my comadre, nothing for me", ["give 283.5 g"]),
        ("beef soup", "some of the soup was given to my neighbour by me, 450 grams in a jar", ["give 450 g"]),
        ("beef soup", "500 grams of the soup went to the lady next door in a jar", ["give 500 g"]),
        ("beef soup", "the baby knocked over the soup, 150 g wasted", ["give 150 g"]),
        ("beef soup", "husband eat soup 300, daughter 250", ["give 300 g", "give 250 g"]),
        ("beef soup", "my wife also had soup, 280, and the boy 200", ["give 280 g", "give 200 g"]),
        ("chili", "Andrzej came round and ate 400 of the chili", ["give 400 g"]),
        ("chili", "our lodger's been at the chili again, 350 gone", ["give 350 g"]),
        ("chili", "390g of the chili for me, Tom had loads, 520", ["eat 390 g", "give 520 g"]),
        ("chili", "chili for dinner: me 320, Rosa 280, both kids 150 each", ["eat 320 g", "give 280 g", "give 300 g"]),
        ("spoken", "dished up the chili. 300 mine 450 his", ["eat 300 g", "give 450 g"]),
        ("spoken", "I had 250 and Bill 500", ["eat 250 g", "give 500 g"]),
        ("spoken", "me 380, ellie 180", ["eat 380 g", "give 180 g"]),
        ("chili", "chili tonight, himself got 420 and I'd 290", ["give 420 g", "eat 290 g"]),
        ("chili", "two bowls of the chili: 310 for me and 350 for my mate", ["eat 310 g", "give 350 g"]),
        ("hot tamales", "44 tamales out of the steamer, they weigh 8 lb 4 oz together", ["44 tamale"]),
        ("hot flapjacks", "flapjacks weigh 735 baked, tin off, cuts into 15", ["15 flapjack"]),
        ("hot loaf", "loaf's out: 838 g, that makes 12 slices", ["12 slice"]),
        ("tamales", "my sister took a dozen home", ["give 12 pieces"]),
        ("tamales", "ten of them went home with my brother", ["give 10 pieces"]),
        ("flapjacks", "took 12 flapjacks to school for the sale, sold the lot £9", ["give 12 pieces"]),
        ("tamales", "one more tamal for supper, don't judge me", ["eat 1 tamale"]),
        ("loaf", "mum's here, she had 2 slices and took 4 for my dad", ["give 2 pieces", "give 4 pieces"]),
        ("loaf", "and another slice of the loaf for the bump", ["eat 1 slice"]),
        ("loaf", "half a slice of the loaf, Mum had the other half", ["eat 0.5 slice", "give 0.5 pieces"]),
        ("loaf", "neighbour's lad got three slices of the loaf", ["give 3 pieces"]),
        ("flapjacks", "kids polished off five flapjacks between them", ["give 5 pieces"]),
        ("loaf", "last two slices of the loaf, toasted", ["eat 2 slice"]),
        ("tamales", "nine tamales left the house with my son", ["give 9 pieces"]),
        ("beans", "the rest of the beans, I finished them standing at the stove", ["eat 1 of left"]),
        ("adobo", "adobo's finished now, threw out the last bit, smelled off", ["all gone"]),
        ("chili", "chili's all gone, the boys cleaned it out", ["all gone"]),
        ("chili", "scraped the last of the chili out for lunch", ["eat 1 of left"]),
        ("beef soup", "rest of the soup down the sink", ["all gone"]),
        (
            "beef soup",
            "there was 900 of soup left, I had 300 of it and binned what remained",
            ["eat 300 g", "all gone"],
        ),
        ("pie", "pie again, what was left was meant for Tom but I nicked 260g of it", ["eat 260 g"]),
        (
            "beans",
            "I was going to make rice but my sister called and now it's late, so just 6 oz from the pot",
            ["eat 170.1 g"],
        ),
        ("spoken", "took 320", ["eat 320 g"]),
        ("taco", "roommate ate 8 oz of it, owes me 5 bucks", ["give 226.8 g"]),
        ("spoken", "boxed it, 6 of them", ["box 6"]),
        ("spoken", "boxed up the rest, 4 lots", ["box 4"]),
        ("chili", "chili into tubs, five of 300, remainder for tonight", ["box 5 of 300 g"]),
        ("boxed", "how many boxes i got left", ["stored?"]),
        ("two dals", "230 g dal, the fresh one", ["eat 230 g"]),
        ("two dals", "my friend took 400 g of the new dal home in a tub", ["give 400 g"]),
        ("spoken", "gave the wife 350 and had 420 meself", ["give 350 g", "eat 420 g"]),
        ("chili", "Uncle Femi took 600 grams of the chili away in his cooler", ["give 600 g"]),
        ("chili", "poured 150 of the chili down the sink by accident", ["give 150 g"]),
        ("chili", "my daughter-in-law's having 280 of the chili, I've had 310", ["give 280 g", "eat 310 g"]),
        ("chili", "I'm on 340 of the chili and himself is on 460", ["eat 340 g", "give 460 g"]),
        ("chili", "half the chili went to the food bank", ["give 0.5 of None"]),
        ("chili", "chili: 310 mine, 290 hers", ["eat 310 g", "give 290 g"]),
        ("chili", "310 chili me / 290 chili her", ["eat 310 g", "give 290 g"]),
        ("loaf", "gran had a slice of the loaf and I had two", ["give 1 pieces", "eat 2 slice"]),
        ("loaf", "the lads demolished 6 slices of my loaf", ["give 6 pieces"]),
        ("loaf", "3 slices of loaf to the office, 1 for me on the way", ["give 3 pieces", "eat 1 slice"]),
        ("tamales", "five tamales for the padre and three for his sister", ["give 5 pieces", "give 3 pieces"]),
        ("beef soup", "had 300 of the soup, the rest went down the drain", ["eat 300 g", "all gone"]),
        ("beef soup", "the soup: 300 for lunch, rest to the freezer", ["eat 300 g"]),
        ("beef soup", "soup's finished, Mum had the last of it", ["all gone"]),
        ("boxed", "two stew boxes to my dad, one for me", ["give 2 box", "eat 1 box"]),
        ("boxed", "took one stew box, Kev took two", ["eat 1 box", "give 2 box"]),
        ("taco", "7 oz for me and 9 oz for my roommate", ["eat 198.4 g", "give 255.1 g"]),
        ("taco", "roommate had like 8 oz of the taco meat, i had 6", ["give 226.8 g", "eat 170.1 g"]),
        ("adobo", "husband eat adobo 400, me 250 only", ["give 400 g", "eat 250 g"]),
        ("adobo", "kids finish the adobo, none left for me", ["all gone"]),
        ("beans", "sent 20 oz of beans home with my compadre", ["give 567 g"]),
        ("beans", "I had 6 oz beans, my mother-in-law 8 oz", ["eat 170.1 g", "give 226.8 g"]),
        ("pie", "Tom's had 520 of the pie and I'm having 390", ["give 520 g", "eat 390 g"]),
        ("pie", "finished the pie off between us, I had 400 and he had the rest", ["eat 400 g", "all gone"]),
        ("pie", "pie for tea, 350 on mine, 480 on his", ["eat 350 g", "give 480 g"]),
    ),
)
def test_everybody_gets_what_they_had(kitchen: str, text: str, meant: list[str]) -> None:
    assert told(kitchen, text) == meant


@pytest.mark.parametrize(
    ("kitchen", "text"),
    (
        ("beans", "Beto is coming to take 14 oz of the beans tomorrow"),
        ("beans", "should I give her 20 oz of the beans?"),
        ("loaf", "I could eat half the loaf"),
        ("loaf", "Tom wants two slices of the loaf"),
        ("beans", "none of the beans for me, my brother can have 10 oz later"),
        ("chili", "me and Tom might split 800 of the chili later"),
        ("tamales", "my sister makes two dozen of them for Christmas"),
        ("chili", "chili recipe from Rosa: 300 g beans"),
        ("chili", "if Tom comes I'll give him 400 of the chili"),
        ("chili", "gave Tom the chili recipe, serves 4"),
        ("loaf", "who had 2 slices of the loaf?"),
        ("loaf", "mum used to have 2 slices of loaf every morning"),
        ("tamales", "need 12 tamales for Chelo on Friday"),
        ("boxed", "are there 2 stew boxes for dad"),
        ("pie", "saving 300 of the pie for Tom"),
        ("taco", "roommate owes me 8 bucks"),
        ("beans", "my neighbor made 20 oz of her own beans"),
    ),
)
def test_what_nobody_has_had_yet_leaves_nothing(kitchen: str, text: str) -> None:
    assert not [meaning for meaning in meant(kitchen, text) if of_the_kitchen(meaning)]


PEOPLE = ("my sister", "Tom", "the kids", "her", "my neighbour", "Priya", "him", "grandad")
SAYINGS = ("{n} for {who}", "{n} g for {who}", "gave {who} {n}", "and {n} to {who}")


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    mine=st.integers(60, 600),
    others=st.lists(st.tuples(st.sampled_from(PEOPLE), st.integers(60, 600), st.sampled_from(SAYINGS)), max_size=3),
    first=st.booleans(),
)
def test_what_others_had_is_never_the_writers(mine: int, others: list[tuple[str, int, str]], first: bool) -> None:
    parts = [saying.format(who=who, n=n) for who, n, saying in others]
    own = f"{mine} for me"
    text = "chili: " + ", ".join([own, *parts] if first else [*parts, own])
    found = meant("spoken", text)
    eaten = [m.amount.grams or m.amount.value for m in found if isinstance(m, Item) and m.amount is not None]
    given_away = [m.amount.grams for m in found if isinstance(m, GiveAway) and m.amount is not None]
    assert sum(eaten) <= mine
    assert sum(grams or 0 for grams in given_away) <= sum(n for _, n, _ in others)
