"""What sounds like a portion and is none: plans, questions, what others wanted, food of no batch."""

from __future__ import annotations

import pytest

from .kitchen import meant, of_the_kitchen


@pytest.mark.parametrize(
    ("kitchen", "text"),
    (
        ("stew", "gonna split the stew into 6 boxes tomorrow"),
        ("stew", "should I do 6 boxes of 350?"),
        ("stew", "I'll box the stew up later, probably 6"),
        ("stew", "would 8 boxes of 400 fit the stew?"),
        ("stew", "bought 6 boxes of tissues"),
        ("stew", "the stew could make 6 boxes if I add rice"),
        ("boxed", "saving the last stew box for tomorrow"),
        ("boxed", "might have a stew box later"),
        ("boxed", "didn't touch the stew box"),
        ("boxed", "no stew box today"),
        ("boxed", "did I have a stew box yesterday?"),
        ("boxed", "i never had that stew box"),
        ("chili", "the rest of the chili is for tomorrow"),
        ("chili", "I'll finish the chili tomorrow"),
        ("chili", "will give my mum 300 g of the chili"),
        ("chili", "my son had 200 g of pizza"),
        ("chili", "can my son have 200 g of the chili?"),
        ("chili", "mum says she had 300 g of her own chili"),
        ("roti", "bought 12 rotis at the shop"),
        ("boxed", "No stew for me today thanks"),
        ("boxed", "none of the stew boxes for me"),
        ("stew", "my mum had a box of chocolates"),
        ("stew", "gave Sam the rest of my yogurt"),
        ("stew", "she had the rest of the pizza"),
        ("stew", "dropped my toast on the floor"),
        ("stew", "binned 80 g of rice"),
        ("stew", "kids had 200 g of pasta"),
        ("stew", "2 jars of pickles for the neighbours"),
        ("stew", "how much water should I drink"),
        ("stew", "am I out of protein for today"),
        ("stew", "stew again tomorrow, 300 g"),
        ("stew", "neighbors loved the stew"),
        ("stew", "mum wants the stew recipe"),
        ("stew", "dan asked how much stew there was"),
        ("stew", "I made the stew for my mum"),
        ("stew", "stew feeds 6"),
        ("stew", "the cat is eyeing my stew"),
        ("boxed", "stew boxes weigh 320 each"),
        ("boxed", "8 stew boxes in the fridge"),
        ("boxed", "still 8 boxes of stew"),
        ("boxed", "ordered 10 boxes online"),
        ("boxed", "washed the boxes"),
        ("boxed", "my stew boxes are in the office fridge"),
        ("roti", "3 rotis left"),
        ("roti", "there are 12 rotis"),
        ("dal", "gave it to my mum"),
        ("boxed", "put two stew boxes aside for mum next week"),
        ("boxed", "stew box? maybe later"),
        ("chili", "I could give my brother some of the chili"),
        ("chili", "wish I had the rest of that chili right now"),
        ("chili", "don't give my brother any of the chili"),
        ("chili", "my brother asked for 300 g of the chili but I said no"),
        ("boxed", "if I eat a stew box now is that too much"),
        ("chili", "she cooked 300 g of chili at her place"),
    ),
)
def test_nothing_is_taken_from_a_batch(kitchen: str, text: str) -> None:
    assert not [meaning for meaning in meant(kitchen, text) if of_the_kitchen(meaning)]
