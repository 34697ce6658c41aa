"""Frames for questions and requests about the writer's own records, in any wording."""

from __future__ import annotations

from bot.language.asked import Eaten, Remaining, Sheet, TotalOf, Trend, WhoAte
from bot.language.guided import Invite, WhoSees
from bot.language.kitchen import InviteToKitchen
from bot.language.meanings import Chatter, Meaning
from bot.language.nutrients_named import named_nutrient
from bot.language.pack import pack
from bot.language.scene import Scene
from domain.reference.words import is_given_name

SHORT = 4
"""Words up to which a nutrient by itself is a question ('kj today', 'prot so far')."""
LONGEST_CHATTER = 12
"""Words up to which a message without food or number is a remark."""


def asked_about(scene: Scene) -> list[Meaning] | None:
    """'kcal?', 'how did I do for protein on Sunday, would you say?', 'did I go over on calories or am I good'."""
    message = scene.message
    if scene.foods or scene.named or message.of("amount", "hash", "price", "tare", "macro", "energy"):
        return None
    words = [word for word in scene.said if word.isalpha()]
    asks = message.asks or scene.cue("asking_form") or "?" in scene.said
    nutrient = named_nutrient(message)
    if nutrient is not None and (asks or len(words) <= SHORT) and not scene.cue("target_word", "no_books"):
        if scene.cue("still_left", "went_over"):
            return [Remaining(nutrient=nutrient)]
        return [TotalOf(nutrient=nutrient, day=message.when.day, meal=message.when.meal)]
    if not asks or message.when.future:
        return None
    if scene.cue("body_weight_word", "on_the_scales") and scene.cue("over_time"):
        return [Trend(of="body_weight")]
    if scene.cue("going_today") and (scene.cue("the_day") or message.when.day is not None):
        return [Sheet(span="day", day=message.when.day or message.around.today)]
    if scene.cue("went_over"):
        return [Remaining(nutrient="kcal")]
    if scene.cue("did_i_eat") and (message.when.day is not None or message.when.meal is not None):
        return [Eaten(day=message.when.day, meal=message.when.meal)]
    return None


MOST_INVITING = 30
"""Chunks of a message that only asks for an invitation."""


def inviting(scene: Scene) -> list[Meaning] | None:
    """'can Sam and I share one kitchen on here?', 'I want my brother in my kitchen, how do I invite him'."""
    message = scene.message
    if _weighs(scene) or scene.cue("own_coach_word"):
        return None
    if scene.cue("kitchen_itself") and scene.cue("sharing"):
        return [InviteToKitchen()]
    if scene.named or not scene.cue("on_here") or not (message.asks or scene.cue("how_to", "wanting")):
        return None
    housemate = message.has_any(message.words.people | message.words.pronouns)
    return [InviteToKitchen()] if housemate else None


def client_wanted(scene: Scene) -> list[Meaning] | None:
    """'one more invitation please, this one is for Jonas', 'I am taking on Amina as a client'."""
    message = scene.message
    if not scene.cue("client_invited", "new_client") or scene.cue("kitchen_itself") or _weighs(scene) or scene.named:
        return None
    if len(message.chunks) > MOST_INVITING or message.of("hash", "energy", "macro"):
        return None
    around = message.around
    if around.coaches and not around.guides and message.asks and not scene.cue("wanting", "request_form"):
        return None  # 'is Kim a client here as well?'
    start, end = message.chunks[0].start, message.chunks[-1].end
    named = [t for t in message.tokens[start + 1 : end] if t.raw[:1].isupper() and not message.words.knows(t.text)]
    if not named and scene.cue("new_client") and scene.cue("own_coach_word") and not message.asks:
        return [Invite()]
    return [Invite(called=named[0].raw)] if len(named) == 1 and named[0].raw.isalpha() else None


def who_sees(scene: Scene) -> list[Meaning] | None:
    """'does dana see what i eat?', 'is my coach able to look at my weight?', 'can anybody else read my log'."""
    message, words = scene.message, scene.said
    if message.of("amount", "hash") or scene.named or not scene.cue("seen_data") or not scene.cue("gets_to_see"):
        return None
    asks, oneself = pack()["asks_of_another"], pack()["not_another"]
    about_another = [at for at, word in enumerate(words[:-1]) if word in asks and words[at + 1] not in oneself]
    sight = pack()["gets_to_see"].found(words)
    return [WhoSees()] if about_another and sight else None


def who_ate(scene: Scene) -> list[Meaning] | None:
    """'who's had how much of the chili?', 'how much of the stew has my wife eaten'."""
    message = scene.message
    if scene.foods or len(scene.named) != 1 or message.of("amount", "hash", "energy", "macro", "price", "tare"):
        return None
    of_another = scene.cue("how_much") and scene.cue("has_eaten") and message.has_any(message.words.people)
    if not scene.cue("who_ate") and not (of_another and message.asks):
        return None
    return [WhoAte(batch=scene.named[0][0])]


def first_words(scene: Scene) -> list[Meaning] | None:
    """'morning, someone said you're good for people who batch cook?': somebody has heard of the program."""
    if scene.message.of("amount", "hash", "energy", "macro", "price") or not scene.cue("heard_of_you"):
        return None
    return [Chatter(kind="greeting")]


def introduced(scene: Scene) -> list[Meaning] | None:
    """'hello, this is Dana, I cook for five': somebody says who they are, and weighs nothing."""
    message = scene.message
    if message.asks or message.of("food", "batch", "hash", "energy", "macro", "price", "tare", "part", "state"):
        return None
    if scene.named or any(amount.kind == "mass" for amount in scene.masses):
        return None
    words = scene.said
    greeted = pack()["greeting"].end(words, 0) or 0
    at = greeted
    while at < len(words) and not words[at].isalnum():
        at += 1
    named = pack()["says_own_name"].end(words, at) or (greeted and pack()["i_am_somebody"].end(words, at)) or 0
    if not named or named >= len(words) or message.vocabulary.knows(words[named]):
        return None
    typed = message.said[len(message.said) - len(words) + named]
    behind = words[named + 1 : named + 2]
    ends = not behind or not behind[0].isalnum() or behind[0] in pack()["ends_pot_name"]
    return [Chatter(kind="greeting")] if ends and (typed[:1].isupper() or is_given_name(words[named])) else None


def _weighs(scene: Scene) -> bool:
    return bool(scene.message.of("food")) or any(amount.kind == "mass" for amount in scene.masses)


def remark(scene: Scene) -> list[Meaning] | None:
    """'good session today', 'smells good', 'wish me luck': it is not about food and asks nothing."""
    message = scene.message
    if message.asks or scene.named or not scene.cue("small_talk"):
        return None
    if message.of("amount", "food", "hash", "energy", "macro", "price", "tare", "part", "whole"):
        return None
    words = [word for word in scene.said if word.isalpha()]
    return [Chatter(kind="other")] if len(words) <= LONGEST_CHATTER else None
