"""Targets, body weight, and what people say about themselves: from readings to meanings."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Literal, cast

from bot.language.bodies import Body, rate
from bot.language.fact_meanings import AboutSelf, BodyWeight, ComputeTarget, DayKind, SetTarget
from bot.language.figures import Figures, figure
from bot.language.goals import TargetSaid
from bot.language.grammar import Reading
from bot.language.meanings import Meaning, NotMine
from bot.language.message import Message
from bot.language.moments import Moment, together
from bot.language.pack import pack, plain
from bot.language.times import days, from_day, spoken
from bot.language.told import Amount, When
from bot.language.words import Words
from domain.bodyweight import LEAST_KG, MOST_KG
from domain.cautions import hazardous_loss, hazardous_weight

PER_BODY_WEIGHT = ("per_body_kg", "per_body_lb")
GROWN_UP = 18
YOUNGEST = 5


def aside_when(reading: Reading, message: Message) -> When:
    """What the asides of a reading say of the time together."""
    told = [moment for value in reading.values.values() if isinstance(value, tuple) for moment in value]
    return together([moment for moment in told if isinstance(moment, Moment)], message.around)


def target(reading: Reading, message: Message) -> Meaning | None:
    """What the person aims at for a day."""
    if message.asks or not message.wording.said.isdisjoint(PER_BODY_WEIGHT):
        return None
    amount, nutrient = cast("Amount | None", reading.values.get("weight")), str(reading.values.get("nutrient"))
    figures = Figures({nutrient: figure(nutrient, amount)}) if amount is not None else None
    said = TargetSaid(figures) if figures is not None else cast(TargetSaid, reading["target_said"])
    amounts = said.amounts()
    if nutrient in amounts and amounts[nutrient] is None and not message.of("energy"):
        # "protein target 900": the number would become energy, and what was named would get none.
        return None
    first = reading.values.get("from_day")
    if isinstance(first, date):
        said = replace(said, first=first)
    more = {"day": said.first, "until": said.until, "days": said.days}
    return SetTarget(**amounts, **more)  # type: ignore[arg-type]


def day_kind(reading: Reading, message: Message) -> Meaning | None:
    """Whether a day is one of training or of rest."""
    if message.of("amount", "food"):
        return None
    return DayKind(kind=cast(Literal["training", "rest"], reading["kind"]), day=message.when.day)


def computed(reading: Reading, message: Message) -> Meaning | None:
    """A target that is to be computed, with the goal rate and the first day where they were said."""
    kg = cast("float | None", reading.values.get("rate"))
    day = reading.values.get("from_day")
    goal = cast("Words | None", reading.values.get("goal"))
    if goal is not None:
        line = message.line
        rates = (found for at in range(goal.start, goal.end) for found, _ in rate(line, at, goal.end))
        kg = cast("float | None", next(rates, None))
        # A day without a word for beginning belongs to the goal ("to lose 5 kg by June").
        begins = (at for at in range(goal.start, goal.end) if spoken(line, "from_then", at, goal.end) is not None)
        day = next((found for at in begins for found, _ in from_day(line, at, goal.end)), None)
    return ComputeTarget(kg_per_week=kg, day=day)  # type: ignore[arg-type]


def body_weight(reading: Reading, message: Message) -> Meaning | list[Meaning] | None:
    """The person's own weight: said to be one, or a mass that can be nothing else."""
    body = cast(Body, reading["body"])
    if message.asks or message.of("food", "batch", "hash"):
        return None
    plausible = body.kg is not None and LEAST_KG <= body.kg <= MOST_KG
    if not reading.values.get("said") and not plausible:
        return None
    weight = BodyWeight(value=body.value, unit=body.unit, kg=body.kg, when=aside_when(reading, message))
    # Under the least that anybody weighs it is a slip, about which nobody needs to hear of a doctor.
    hazardous = plausible and body.kg is not None and hazardous_weight(body.kg)
    return [AboutSelf(kind="weight_goal"), weight] if hazardous else weight


def body_change(reading: Reading, message: Message) -> Meaning | None:
    """A change of weight or an aim: no weight, and nothing to record."""
    body = cast(Body, reading["body"])
    if body.unit is None or message.asks or message.of("food", "batch", "tare", "hash", "state", "energy"):
        return None
    if len(message.weights) > 2 or not _in_its_sentence(message) or _is_no_bodys(body, message):
        return None
    return AboutSelf(kind="weight_goal") if _hazardous(body, message) else NotMine(why="body_change")


def _is_no_bodys(body: Body, message: Message) -> bool:
    """Whether nobody can weigh so little, and no change is told: 'I will want this later: the bowl weighs 1 lb'."""
    changes = pack()["weight_change"].found(message.line.plain)
    return body.kg is not None and body.kg < LEAST_KG and not changes


def _in_its_sentence(message: Message) -> bool:
    """Whether the change or the aim is told in the sentence of the weight: 'she says I should weigh myself. 163 lb'."""
    told = [sentence for sentence in message.sentences() if sentence.of("amount")]
    said = [[plain(word) for word in sentence.said] for sentence in told]
    words = pack()
    return any(words[name].found(each) for each in said for name in ("weight_change", "weight_aim"))


def _hazardous(body: Body, message: Message) -> bool:
    """Whether an aim is too light for anybody grown up, or a loss wished for too fast."""
    line, words = message.line, pack()
    said = line.plain[message.chunks[0].start : message.chunks[-1].end]
    end = message.chunks[-1].end
    if body.kg is None or not words["weight_aim"].found(said):
        return False
    if words["weight_change_sure"].found(said):
        spans = [span for at in range(message.chunks[0].start, end) for span, _ in days(line, at, end)]
        losing = words["to_lose_weight"].found(said)
        return losing and bool(spans) and hazardous_loss(body.kg, cast(int, spans[0]))
    return hazardous_weight(body.kg)


def about_self(reading: Reading, message: Message) -> Meaning | None:
    """What somebody says about themselves."""
    kind, years = reading["kind"], cast("int | None", reading.values.get("years"))
    if kind == "minor" and (years is None or not YOUNGEST <= years < GROWN_UP):
        return None
    if message.of("food") and kind != "blood_sugar":
        return None
    words = message.line.plain
    if kind == "blood_sugar" and (pack()["energy_kcal"].found(words) or pack()["label_word"].found(words)):
        return None  # a label has sugars too
    return AboutSelf(kind=kind, years=years)  # type: ignore[arg-type]
