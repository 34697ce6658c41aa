"""Weigh-ins told in wordings of many people: readings of a scale, foods put on foods, pieces, kinds and drinks."""

import pytest

from .chat import Chat


def grams(chat: Chat, *texts: str) -> list[tuple[str, float]]:
    """The foods with energy that the last of the messages puts on record, each with its edible grams."""
    told = [chat.say(text) for text in texts][-1].all("weigh_in")
    return sorted((str(e["food"]), round(float(e["edible_g"]))) for e in told if e["kcal"] >= 5)


@pytest.mark.parametrize(
    ("texts", "foods"),
    (
        (("zeroed the bowl, 60 g muesli", "topped it w whole milk and now we're at 260"), [("whole milk", 200)]),
        (("60 g muesli", "raspberries went in and the display climbed to 110"), [("raspberries", 50)]),
        (
            ("empty bowl 298. natural yogurt in: 448. then granola: 493, and 571 once the strawberries were on",),
            [("granola", 45), ("plain yogurt", 150), ("strawberries", 78)],
        ),
        (("honey jar's at 322 now, it was 340 before breakfast",), [("honey", 18)]),
        (("196 on the almond butter jar, down from 215 when i opened it",), [("almond butter", 19)]),
        (("20g of jam on a crumpet, the crumpet was 55g",), [("crumpet", 55), ("jam", 20)]),
        (("40 g cheddar on a jacket spud, spud 285g",), [("cheddar cheese", 40), ("jacket potato", 285)]),
        (("oat biscuits, 10g a piece. ate 3. no, 4",), [("oatmeal cookie", 40)]),
        (("meatballs 5 of them, one's about 28g",), [("meatballs", 140)]),
        (("half an avocado it was, 70 grams that half",), [("avocado", 70)]),
        (("nectarine for pudding, 150 g in all, stone of 12 g binned",), [("nectarine", 138)]),
        (("orange, 210 g whole, 60 g of peel not eaten",), [("orange", 150)]),
        (("35 g semi skimmed milk in a cup of tea",), [("2% milk", 35)]),
        (("coffee had 25 g whole milk in",), [("whole milk", 25)]),
        (("64g of toast w that, the whole wheat kind",), [("whole wheat toast", 64)]),
        (("i didn't write this down on saturday: 40 g of cashews",), [("cashews", 40)]),
        (("14 g of parmesan grated on that",), [("parmesan", 14)]),
    ),
)
def test_what_was_eaten_is_recorded(chat: Chat, texts: tuple[str, ...], foods: list[tuple[str, float]]) -> None:
    assert grams(chat, *texts) == foods


@pytest.mark.parametrize(
    "texts",
    (
        ("should I put the bowl on and zero it, 40 with cornflakes, 190 after milk?",),
        ("tomorrow: empty plate 412, cod to 573, potato to 801",),
        ("bought a jar of honey, 340 before, 322 now on offer",),
        ("my husband's peanut butter jar says 583, before he dug in it was 611",),
        ("60 g muesli", "he poured milk on his, the scale climbed to 260"),
        ("60 g muesli", "if I poured milk in, would the scale be up to 260?"),
        ("didn't eat the pear, 171 g, core of 18 g",),
        ("peeled 3 bananas for the bread, 300 g",),
        ("wife had 20 g jam on a crumpet, the crumpet was 55 g",),
    ),
)
def test_what_was_not_eaten_is_not(chat: Chat, texts: tuple[str, ...]) -> None:
    assert grams(chat, *texts) == []


def test_a_weight_of_its_own_is_no_total(chat: Chat) -> None:
    assert grams(chat, "had 150 g grilled chicken breast", "added 200 g of coleslaw") == [("coleslaw", 200)]
