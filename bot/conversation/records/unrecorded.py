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
from bot.language.meanings import Answer, Bare, Chatter, LeftOut, NotMine, Unclear
from bot.language.told import Item
from bot.store import questions
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
    ex.say(NOT_MINE[meaning.why])


def left_out(meaning: LeftOut, ex: Exchange) -> None:
    """Says which numbers of the message have no part in what was recorded."""
    ex.say(f"I left out {saying.listed([f'“{text}”' for text in meaning.texts])}.")


CHATTER = {
    "greeting": "Hello! Text me what the scale says, for example: 180 g cooked rice",
    "thanks": "You're welcome.",
    "other": "I'm here when the scale has something to say.",
}


def chat(meaning: Chatter, ex: Exchange) -> None:
    """Answers chatter with a friendly line."""
    ex.say(CHATTER[meaning.kind])


def bare(meaning: Bare, ex: Exchange) -> Ask | Refuse | None:
    """Asks what a bare number is: a body weight, or a food and which."""
    amount = meaning.amount
    item = Item(text=amount.text, amount=amount)
    if amount.doubt == "negative" or amount.value == 0:
        return Refuse(f"{amount.text} is no weight.")
    if amount.kind != "bare":
        return Ask(About.FOOD, f"{saying.spaced(amount.text)} of what?", item)
    if amount.value < 1 or (amount.value == int(amount.value) and amount.value <= 12):
        ex.say("Nothing is waiting for a number. Tell me a food with its weight, for example: 180 g cooked rice")
        return None
    food = replace(item, amount=mass(amount.value))
    choices = [Choice(f"food, {amount.value:g} g", food)]
    if LEAST_KG <= amount.value <= MOST_KG:
        choices.insert(0, Choice("my body weight", BodyWeight(value=amount.value, unit=None, kg=None)))
    return Ask(
        About.BARE,
        f"{amount.text}: is that your body weight, or food? If food, of what?"
        if len(choices) > 1
        else f"{saying.spaced(amount.text)} of what?",
        item,
        tuple(choices),
    )


def unasked_answer(_: Answer, ex: Exchange) -> None:
    """Answers words that would answer a question when none waits, or none that they can be for."""
    if of_the_record(questions.waiting(ex.books)):
        ex.say("I can't tell what that answers. To see what is open, say: what's open?")
        return
    ex.say("Nothing is waiting for that answer. Tell me a food with its weight, for example: 180 g cooked rice")


def unclear(meaning: Unclear, ex: Exchange) -> None:
    """Says that the message was not understood, and what would be enough."""
    ex.note(events.NotUnderstood())
    if not meaning.text.strip():
        ex.say("I could not read anything in that. Text me a food and its weight, for example: 180 g cooked rice")
        return
    ex.say(
        "I did not understand that, so nothing is recorded. A food and its weight is enough, for example: 180 g cooked rice. Say help for more."
    )
