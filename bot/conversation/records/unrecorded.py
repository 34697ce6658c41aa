"""What is answered without being recorded: what-ifs, listings, help, greetings."""

from __future__ import annotations

from dataclasses import replace

from bot import events
from bot.conversation import saying
from bot.conversation.batches.portions import judge_portion
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.records.judging import Judged, judge
from bot.conversation.records.measuring import mass
from bot.conversation.settings import reminders
from bot.conversation.settings.targets import target_lines
from bot.kinds import About, CautionKind, ListOf, Topic
from bot.language.meanings import (
    Amount,
    Answer,
    Bare,
    BodyWeight,
    Chatter,
    Help,
    Item,
    Listing,
    NotMine,
    Unclear,
    WhatIf,
)
from bot.store import batches, facts, weighins
from domain.batches import Batch
from domain.bodyweight import LEAST_KG, MOST_KG

HELP = """I keep what your kitchen scale says. Text me as you would say it aloud:
180 g cooked rice, or: apple 190 with core
new batch chilli: 800 g raw ground beef 80/20, 400 g canned tomatoes
batch 1 cooked 1040 g, then: took 220 g from batch 1
tare blue bowl 412 g, then: 630 g cooked pasta in the blue bowl
change last to 280 g, delete #3, or undo
what is left today, batches, help
with a coach: who sees my data? As a coach: invite Ana, then roster
invite Bo to my kitchen: you share batches, and nobody's sheet is seen
Grams are best. I ask when a guess would be wrong."""
MEDICAL = "This is no medical advice. Under 18, pregnant, on insulin, or with an eating disorder now or before: please ask your doctor or dietitian first."
IMPORT = (
    "An export is brought back by whoever runs this Tarebook: send them the file. Reading it twice doubles nothing."
)
WELCOMED = "welcome"
LISTED_AT_MOST = 20
MOST_ANSWERS = 4
"""Lines of figures that answer one question."""


KEEPING = (
    "Cooked leftovers, soups and stews keep 3 to 4 days in the fridge, 2 to 6 months in the freezer (USDA FSIS). "
    "Cool them within two hours, reheat to 74 °C (165 °F). When in doubt, ask your local food authority."
)
BASIS = (
    "Raw or cooked, dry or boiled: both work, as long as the figures are for the same state and you keep to one. "
    "Raw or dry is steadier, since the water that food takes up or loses differs from pot to pot."
)


def what_if(meaning: WhatIf, ex: Exchange) -> None:
    """The figures for what was asked about; nothing is recorded."""
    if meaning.topic:
        ex.note(events.Answered(about=Topic(meaning.topic)))
        ex.say(KEEPING if meaning.topic == "keeping" else BASIS)
        return
    ex.note(events.Answered(about=Topic.WHAT_IF))
    answers = [a for item in meaning.items for a in _figures(item, ex)]
    for answer in answers:
        ex.say(answer)
    if meaning.text.lower().lstrip().startswith("should"):
        ex.say("Whether to eat it is yours to decide; these are its figures.")
    if not answers:
        ex.say("I can give the figures of a food: ask, for example, how much is 200 g dry rice?")
    ex.say("Nothing was recorded.")


def _figures(item: Item, ex: Exchange) -> list[str]:
    item = replace(item, shared=False, when=replace(item.when, future=False), state_may_be_verb=False)
    if item.amount is None:
        item = replace(item, amount=Amount(kind="mass", value=100, unit="g", grams=100, text="100 g"))
    if item.batch is not None and item.batch.sure:
        portion = judge_portion(item, ex)
        if isinstance(portion, tuple):
            return [_line(portion[1])]
        return [portion.text]
    item = replace(item, batch=None)
    judged = judge(item, ex, by_habit=False)
    if isinstance(judged, Judged):
        return [_line(judged)]
    if isinstance(judged, Refuse):
        return [judged.text]
    return _each_state(item, judged, ex)


def _each_state(item: Item, asked: Ask, ex: Exchange) -> list[str]:
    """When the state was not said: the figures for each; for any other doubt, for the first choices."""
    lines: list[str] = []
    for choice in asked.choices[:3]:
        if isinstance(choice.meaning, Item):
            judged = judge(choice.meaning, ex)
            if isinstance(judged, Ask) and judged.about == About.STATE and asked.about != About.STATE:
                lines.extend(_each_state(choice.meaning, judged, ex))
            elif isinstance(judged, Judged) and judged.weigh_in.nutrients is not None:
                lines.append(_line(judged))
    return lines[:MOST_ANSWERS] or [asked.text]


def _line(judged: Judged) -> str:
    nutrients = judged.weigh_in.nutrients
    figures = f": {saying.figures(nutrients)}" if nutrients is not None else ""
    return f"{judged.name[:1].upper()}{judged.name[1:]}, {judged.told}{figures}."


def listing(meaning: Listing, ex: Exchange) -> None:
    """Lists what was asked for, a line each, or says how to have the first one."""
    lines = _listed(meaning, ex)
    empty, rows = lines
    ex.note(events.ListingShown(of=ListOf(meaning.of), count=len(rows)))
    if not rows:
        ex.say(empty)
    for row in rows[:LISTED_AT_MOST]:
        ex.say(row)
    if len(rows) > LISTED_AT_MOST:
        ex.say(f"… and {len(rows) - LISTED_AT_MOST} more.")


def _listed(meaning: Listing, ex: Exchange) -> tuple[str, list[str]]:
    """(what to say when there is none, a line each)."""
    match meaning.of:
        case "batches":
            return "No batch is open. To open one: new batch: 1200 g raw chicken breast", [
                _batch_line(b) for b in batches.open_batches(ex.books)
            ]
        case "tares":
            return "No vessel is saved. To save one: tare blue bowl 412 g", [
                f"{n}: {saying.grams(g)}" for n, g in sorted(ex.larder.tares.items())
            ]
        case "measures":
            return "No measure of your own is saved. For example: my scoop of whey is 31 g", [
                f"{m} of {f}: {saying.grams(g)}" for (f, m), g in sorted(ex.larder.measures.items())
            ]
        case "weigh_ins":
            stored = weighins.on_day(ex.books, ex.books.today)
            return "Nothing is on record today.", [
                f"#{s.number} {s.weigh_in.food}, {saying.grams(s.weigh_in.edible_g)}" for s in stored
            ]
        case "target":
            return "No target is set. For example: target 2100 kcal protein 150", target_lines(ex)
        case "reminders":
            return "No reminder is set. For example: remind me at 20:30", reminders.reminder_lines(ex)
        case _:
            return (
                "You have no foods of your own; the built-in table is there all the same. To add one: label granola: serving 45 g, 190 kcal, fat 6, carbs 25, protein 9",
                [
                    f"{name}: serving {saying.grams(label.serving_g)}, {saying.figures(label.per_100g())} for 100 g"
                    for name, label in sorted(ex.larder.labels.items())
                ],
            )


def _batch_line(batch: Batch) -> str:
    if batch.cooked_g is None:
        return f"Batch {batch.number} {batch.name}: {saying.grams(batch.raw_g)} raw, not weighed cooked yet"
    boxes = f", {batch.boxes_left} of {batch.boxes.count} boxes" if batch.boxes is not None else ""
    return (
        f"Batch {batch.number} {batch.name}: {saying.grams(batch.left_g)} left of {saying.grams(batch.cooked_g)}{boxes}"
    )


def welcome(ex: Exchange, asks: bool = False) -> None:
    """Greets, with the cautions; `asks` says whether the newcomer is asked when to be reminded."""
    facts.first_time(ex.books, WELCOMED)
    ex.say("Hello! I am Tarebook: I keep what your kitchen scale says.")
    ex.say(MEDICAL)
    ex.note(events.Cautioned(kind=CautionKind.MEDICAL))
    ex.say(reminders.welcome(ex, asks))


def helping(meaning: Help, ex: Exchange) -> Ask | None:
    """Says how to use the program; at the start with the cautions, and asks a newcomer when to remind them."""
    ex.note(events.HelpShown())
    asks = meaning.topic == "start" and reminders.is_to_be_asked(ex)
    if meaning.topic == "start":
        welcome(ex, asks)
    if meaning.topic == "settings":
        region = ex.books.person.region.value
        ex.say(
            f"Region {region}, time zone {ex.books.person.timezone.key}. Change them with: region UK, or: timezone Europe/London"
        )
        return None
    if meaning.topic == "import":
        ex.say(IMPORT)
        return None
    ex.say(HELP)
    return reminders.ask_at_the_start(ex) if asks else None


NOT_MINE = {
    "others": "That was somebody else's, so it stays off your record.",
    "negation": "Not eaten, so nothing is recorded.",
    "plan": "A plan is not a weigh-in: nothing is recorded. Tell me when it has been eaten.",
    "shopping": "Shopping, a price or a recipe: nothing is recorded.",
    "body_change": "Good to know. I record body weights themselves, for example: I weigh 82.4 kg",
    "cooking": "Nothing is recorded for that.",
    "report": "That reads like somebody else's words, so nothing is recorded. If you ate it, say “I had …”.",
    "habit": "That reads like a habit, so nothing is recorded. Tell me what you had today.",
    "condition": "Only supposed, so nothing is recorded. Tell me when it has been eaten.",
    "macro": "Those are figures, not food on a scale: nothing is recorded. To save a packet's figures: label granola: serving 45 g, 190 kcal, fat 6, carbs 25, protein 9",
}


def not_mine(meaning: NotMine, ex: Exchange) -> None:
    """Says why nothing was recorded."""
    ex.say(NOT_MINE[meaning.why])


CHATTER = {
    "greeting": "Hello! Text me what the scale says, for example: 180 g cooked rice",
    "thanks": "You're welcome.",
    "other": "I'm here when the scale has something to say.",
}


def chat(meaning: Chatter, ex: Exchange) -> None:
    """A friendly line."""
    ex.say(CHATTER[meaning.kind])


def bare(meaning: Bare, ex: Exchange) -> Ask | Refuse | None:
    """A number by itself: whose weight is it, and of what?"""
    amount = meaning.amount
    item = Item(text=amount.text, amount=amount)
    if amount.doubt == "negative" or amount.value == 0:
        return Refuse(f"{amount.text} is no weight.")
    if amount.kind != "bare":
        return Ask(About.FOOD, f"{amount.text}: of what?", item)
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
        else f"{amount.text}: of what?",
        item,
        tuple(choices),
    )


def unasked_answer(_: Answer, ex: Exchange) -> None:
    """Words that would answer a question, when none waits."""
    ex.say("Nothing is waiting for that answer. Tell me a food with its weight, for example: 180 g cooked rice")


def unclear(meaning: Unclear, ex: Exchange) -> None:
    """Says that nothing was made out, and what would be enough."""
    ex.note(events.NotUnderstood())
    if not meaning.text.strip():
        ex.say("I could not read anything in that. Text me a food and its weight, for example: 180 g cooked rice")
        return
    ex.say(
        "I did not understand that, so nothing is recorded. A food and its weight is enough, for example: 180 g cooked rice. Say help for more."
    )
