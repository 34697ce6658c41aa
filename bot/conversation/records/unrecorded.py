"""Messages that record nothing: other people's food, greetings, bare numbers, and what was not understood."""

from __future__ import annotations

from dataclasses import replace

from bot import events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.questions.stored import of_the_record
from bot.conversation.records.measuring import mass
from bot.kinds import About
from bot.language.fact_meanings import BodyWeight
from bot.language.meanings import Answer, Bare, Chatter, LeftOut, NotMine, Topic, Unclear
from bot.language.told import Amount, Item
from bot.store import facts, questions
from domain.bodyweight import LEAST_KG, MOST_KG

NOT_MINE = {
    "others": "That was somebody else's, so it stays off your record.",
    "negation": "Not eaten, so nothing is recorded.",
    "plan": "A plan is not a weigh-in: nothing is recorded. Tell me when it has been eaten.",
    "shopping": "Shopping, a price or a recipe: nothing is recorded.",
    "body_change": "Good to know. I record body weights themselves, for example: I weigh 82.4 kg",
    "cooking": "Nothing is recorded for that.",
    "report": "That reads like somebody else's words, so nothing is recorded. If you ate it, say “I had …”.",
    "habit": "That reads like a habit, so nothing is recorded. Tell me what you had today.",
    "condition": "That reads like a supposition, so nothing is recorded. Tell me once you have eaten it.",
    "waste": "Lost or thrown away, not eaten: nothing is recorded.",
    "doubt": "That does not say that you ate it, so nothing is recorded. If you did, say “I had …” with the weight.",
    "either": "Which of the two was it? Tell me that one with its weight; nothing is recorded yet.",
    "not_food": "That does not look like food, so nothing is recorded.",
    "macro": "Those are figures, not food on a scale: nothing is recorded. To save a packet's figures: label granola: serving 45 g, 190 kcal, fat 6, carbs 25, protein 9",
}


def not_mine(meaning: NotMine, ex: Exchange) -> None:
    """Says why nothing was recorded."""
    if meaning.texts:
        are, stays = ("was", "it stays") if len(meaning.texts) == 1 else ("were", "they stay")
        ex.say(
            f"{saying.listed([f'“{text}”' for text in meaning.texts])} {are} somebody else's, so {stays} off your record."
        )
        return
    ex.say(NOT_MINE[meaning.why])


def left_out(meaning: LeftOut, ex: Exchange) -> None:
    """Says which numbers of the message have no part in what was recorded."""
    ex.say(f"I left out {saying.listed([f'“{_shortened(text)}”' for text in meaning.texts])}.")


CHATTER = {
    "greeting": "Hello! Text me what the scale says, for example: 180 g cooked rice",
    "thanks": "You're welcome.",
    "kept": "All right, everything stays as it is.",
    "machine": "I'm a program, not a person. I read what you text and keep your food diary.",
    "other": "Text me when you have something to weigh.",
}


def chat(meaning: Chatter, ex: Exchange) -> None:
    """Answers chatter with a friendly line."""
    ex.say(CHATTER[meaning.kind])


def bare(meaning: Bare, ex: Exchange) -> Ask | Refuse | None:
    """Asks what a bare number is: a body weight, or a food and which."""
    amount = meaning.amount
    item = Item(text=amount.text, amount=amount)
    if amount.doubt == "negative" or amount.value == 0:
        return Refuse(f"{amount.text} is not a weight.")
    if amount.kind != "bare":
        return Ask(About.FOOD, f"{saying.spaced(amount.text)} of what?", item)
    if amount.value < 1 or (amount.value == int(amount.value) and amount.value <= 12):
        ex.say("Nothing is waiting for a number. Tell me a food with its weight, for example: 180 g cooked rice")
        return None
    food = replace(item, amount=mass(amount.value))
    choices = [Choice(f"food, {amount.value:g} g", food)]
    own = as_body_weight(amount)
    if own is not None:
        choices.insert(0, own)
    return Ask(
        About.BARE,
        f"{amount.text}: is that your body weight, or the weight of a food? If it is a food, which one?"
        if len(choices) > 1
        else f"{saying.spaced(amount.text)} of what?",
        item,
        tuple(choices),
    )


def as_body_weight(amount: Amount) -> Choice | None:
    """The choice that a number is the person's own weight; None where it can't be."""
    if amount.kind != "bare" or not LEAST_KG <= amount.value <= MOST_KG:
        return None
    return Choice("my body weight", BodyWeight(value=amount.value, unit=None, kg=None))


def unasked_answer(_: Answer, ex: Exchange) -> None:
    """Answers words that would answer a question when none waits, or none that they can be for."""
    if of_the_record(questions.waiting(ex.books)):
        ex.say("I can't tell what that answers. To see what is open, say: what's open?")
        return
    ex.say("Nothing is waiting for that answer. Tell me a food with its weight, for example: 180 g cooked rice")


EXAMPLES: dict[Topic, str] = {
    "fix": "To correct the last weigh-in: change last to 65 g, or: the feta was 85 g. To take it back: undo",
    "repeat": "To repeat something: same breakfast as yesterday, or: my usual coffee",
    "cooked": "When it is cooked: it weighs 1850 g cooked. To add to it: add 150 g peas",
    "boxes": "To put a batch in boxes: split batch 1 into 6 boxes. To take one: a box from batch 1",
    "portion": "To take from a batch: 250 g from batch 1. To see them: batches",
    "opening": "To open a batch: new batch lentil stew: 400 g dry lentils, 250 g carrots",
    "body_weight": "Your own weight: I weigh 71.4 kg. To see it over time: my weight trend",
    "label": "To save a label: label oat bar: serving 40 g, 168 kcal, fat 6, carbs 24, protein 3",
    "estimate": "Without a scale, the energy is enough: burger out, about 900 kcal",
    "target": "To set a target: target 2100 kcal protein 120",
    "tare": "To save a vessel: soup plate 512 g empty. Then: 780 g borscht in the soup plate",
    "coach": "To see who sees your data: who sees my data?",
    "question": "Ask, for example: how much protein today? Or: what did I eat on Tuesday?",
    "food": "Tell me its weight too, for example: 180 g {food}",
    "": "A food and its weight are enough, for example: 180 g cooked rice. Say help for more.",
}
"""One example for each topic that a message may come near to."""
LONGEST_QUOTED = 60
"""Characters of a message that are quoted when it was not understood."""


def unclear(meaning: Unclear, ex: Exchange) -> None:
    """Says what was not understood and, the first time on a day, one example of what it comes nearest to."""
    ex.note(events.NotUnderstood())
    text = " ".join(meaning.text.split())
    if not text:
        ex.say("I could not read anything in that. Text me a food and its weight, for example: 180 g cooked rice")
        return
    told = f"I did not understand “{_shortened(text)}”, so nothing of it is recorded."
    if facts.first_time(ex.books, f"example {meaning.about} {ex.books.today}"):
        told = f"{told} {EXAMPLES[meaning.about].format(food=meaning.food)}"
    ex.say(told)


def _shortened(text: str) -> str:
    return text if len(text) <= LONGEST_QUOTED else f"{text[: LONGEST_QUOTED - 1].rstrip()}…"
