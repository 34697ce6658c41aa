"""Targets: given, or computed from the person's details, each of which is asked for once."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from bot import events, fact_events
from bot.conversation import saying
from bot.conversation.days import body_weight
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.settings import about_self, aiming, limits
from bot.kinds import About, CautionKind, Confirmed, Why
from bot.language.fact_meanings import BodyWeight, ComputeTarget, SetTarget
from bot.language.guided import TargetFor
from bot.language.meanings import Meaning
from bot.store import facts
from bot.store.aims import FIGURES
from domain import bodyweight, quantities, targets
from domain.errors import DomainError
from domain.quantities import Region
from domain.targets import Activity, Body, Computed, Sex

RECENT = timedelta(days=30)
"""Age above which a body weight is asked for again."""
LONGEST_AHEAD = timedelta(days=366)
TOO_FAR = "A target has to begin and end within a year from now."
CLINICIAN = (
    "Then I won't compute a target: the equation can't allow for that, and a wrong number could do harm. "
    "Please ask your doctor or dietitian for one; I will save it once you have it."
)
CONDITION = (
    "First: do any of these apply to you? Pregnant or breastfeeding, diabetes on insulin, "
    "an eating disorder now or before."
)
FLOORED = (
    "The goal would need less than that, and I compute nothing lower: "
    "a smaller target belongs with a doctor or dietitian."
)
NOTHING = "A target needs its figures, for example: target 2100 kcal protein 150"
MOST_KCAL = 20_000
MOST_G = 2_000
NONE_TOO = frozenset({"sugars_g", "saturated_fat_g", "salt_g", "alcohol_g"})
"""What a target may also be none of."""


def set_target(meaning: SetTarget, ex: Exchange) -> Ask | Refuse | None:
    """Saves a target; one that something speaks against needs a confirmation."""
    if meaning.per:
        weight = _body_weight(ex)
        if weight is None:
            return Refuse("For that I need your body weight of the last 30 days. For example: I weigh 82.4 kg")
        meaning = _of_body_weight(meaning, weight)
    refused = impossible(meaning, ex)
    if refused is not None:
        return refused
    against = limits.caution(meaning.kcal, ex.books)
    if against is not None and Confirmed.LOW not in meaning.confirmed:
        return keep_all_the_same(against, meaning, replace(meaning, confirmed=(*meaning.confirmed, Confirmed.LOW)), ex)
    aiming.save(meaning, ex)
    return None


def _body_weight(ex: Exchange) -> float | None:
    """The mean of the last body weights in kg; None without a recent one."""
    today = ex.books.today
    trend = bodyweight.trend(dict(facts.body_weights(ex.books, today - RECENT, today)))
    return None if trend is None else trend.mean


def _of_body_weight(meaning: SetTarget, kg: float) -> SetTarget:
    """The target for the day from one that is told for each kilogram or pound of body weight."""
    units = kg if meaning.per == "kg" else kg * 1000 / quantities.grams(1, "lb")
    told = {name: value * units for name in FIGURES if (value := getattr(meaning, name)) is not None}
    return replace(meaning, per="", **told)


def keep_all_the_same(against: str, pending: Meaning, confirmed: Meaning, ex: Exchange) -> Ask:
    """The question whether to keep a target that something speaks against."""
    ex.note(events.Cautioned(kind=CautionKind.LOW_TARGET))
    choices = (Choice("yes, keep it", confirmed), Choice("no", None))
    return Ask(About.LOW_TARGET, f"{against} Keep it all the same?", pending, choices)


def impossible(told: SetTarget | TargetFor, ex: Exchange) -> Refuse | None:
    """The refusal of a target that nobody can have, that has no figures or days, or that is below 800 kcal."""
    figures = aiming.figures_of(told)
    given = {name: value for name in FIGURES if (value := getattr(figures, name)) is not None}
    if not given:
        return Refuse(NOTHING, Why.FIGURES)
    if any(value < 0 or (value == 0 and name not in NONE_TOO) for name, value in given.items()):
        return Refuse("A target has to be above zero.")
    if any(value > (MOST_KCAL if name == "kcal" else MOST_G) for name, value in given.items()):
        return Refuse(f"A target has to be below {MOST_KCAL:,} kcal and {MOST_G:,} g.")
    if told.until is not None and told.until < max(told.day or ex.books.today, ex.books.today):
        return Refuse(f"{saying.first_up(saying.day(told.until, ex.books.today))} is before the target would begin.")
    if _far(told.day, ex) or _far(told.until, ex):
        return Refuse(TOO_FAR)
    if told.kcal is not None and told.kcal < targets.SUPERVISED_KCAL:
        ex.note(events.Cautioned(kind=CautionKind.LOW_TARGET))
        return Refuse(limits.SUPERVISED, Why.CLINICIAN)
    return None


def _far(day: date | None, ex: Exchange) -> bool:
    return day is not None and day - ex.books.today > LONGEST_AHEAD


def compute(meaning: ComputeTarget, ex: Exchange) -> Ask | Refuse | None:
    """Saves the computed target, or asks for the next detail that it needs."""
    stands = limits.standing(ex.books)
    if stands or meaning.condition:
        ex.note(events.Cautioned(kind=CautionKind.UNDER_18 if "minor" in stands else CautionKind.CLINICIAN))
        ex.refuse(Refuse(CLINICIAN, Why.CLINICIAN))
        return None if stands else about_self.remember(about_self.CLINICIAN, "yes", meaning)
    if _far(meaning.day, ex):
        return Refuse(TOO_FAR)
    # Saved details are read again for each question, so that a later correction counts.
    pending = ComputeTarget(kg_per_week=meaning.kg_per_week, condition=meaning.condition, day=meaning.day)
    try:
        if meaning.cm is not None:
            targets.check_height(meaning.cm)
    except DomainError as error:
        return _ask_height(pending, ex.books.person.region, f"{error} ")
    _keep(meaning, ex)
    known = _known(pending, ex)
    if known.years is not None:
        try:
            targets.check_years(known.years)
        except DomainError as error:
            if known.years < targets.ADULT_YEARS:
                ex.note(events.Cautioned(kind=CautionKind.UNDER_18))
            return Refuse(str(error), Why.AGE)
    question = _missing(known, pending, ex)
    return question if question is not None else _result(known, ex)


def compute_with(kg: float, pending: ComputeTarget, ex: Exchange) -> Ask | Refuse | None:
    """Saves a body weight and continues with the target that needs it."""
    return body_weight.save_body_weight(BodyWeight(value=kg, unit=None, kg=kg), ex) or compute(pending, ex)


def _keep(meaning: ComputeTarget, ex: Exchange) -> None:
    """Saves the details just given, so that they are not asked for again. A condition is never saved."""
    kept = facts.settings(ex.books)
    born = None if meaning.years is None else str(ex.books.today.year - int(meaning.years))
    height = None if meaning.cm is None else f"{meaning.cm:.4g}"
    told = {"sex": meaning.sex, "born": born, "height_cm": height, "activity": meaning.activity}
    for name, value in told.items():
        if value is not None and kept.get(name) != value:
            facts.save_setting(ex.books, name, value)
            ex.note(fact_events.SettingChanged(name=name, value=value))


def _known(pending: ComputeTarget, ex: Exchange) -> ComputeTarget:
    """The request completed with the details on record."""
    kept = facts.settings(ex.books)
    return replace(
        pending,
        sex=kept.get("sex"),
        years=_age(kept.get("born"), ex.books.today.year),
        cm=_number(kept.get("height_cm")),
        kg=_body_weight(ex),
        activity=kept.get("activity"),
    )


def _age(born: str | None, year: int) -> int | None:
    return None if born is None else year - int(born)


def _number(value: str | None) -> float | None:
    return None if value is None else float(value)


def _missing(known: ComputeTarget, pending: ComputeTarget, ex: Exchange) -> Ask | None:
    region = ex.books.person.region
    if known.condition is None:
        choices = (
            Choice("none of these", replace(pending, condition=False)),
            Choice("yes", replace(pending, condition=True)),
        )
        return Ask(About.TARGET_CONDITION, CONDITION, pending, choices)
    if known.sex is None:
        sexes = tuple(Choice(sex.value, replace(pending, sex=sex.value)) for sex in Sex)
        return Ask(
            About.TARGET_SEX, "The equation has one form for women and one for men. Which should I use?", pending, sexes
        )
    if known.years is None:
        return Ask(About.TARGET_AGE, "How old are you, in years?", pending)
    if known.cm is None:
        return _ask_height(pending, region)
    if known.kg is None:
        example = {Region.US: "181.6 lb", Region.UK: "12 st 13"}.get(region, "82.4 kg")
        return Ask(About.TARGET_WEIGHT, f"What do you weigh? For example: {example}", pending)
    if known.activity is None:
        kinds = tuple(Choice(kind.value, replace(pending, activity=kind.value)) for kind in Activity)
        return Ask(
            About.TARGET_ACTIVITY,
            "How active are you on a typical day, counting work, getting around and sport?",
            pending,
            kinds,
        )
    if known.kg_per_week is None:
        return Ask(About.TARGET_RATE, "What is your goal?", pending, _rates(pending, region))
    return None


def _ask_height(pending: ComputeTarget, region: Region, before: str = "") -> Ask:
    example = "178 cm" if region is Region.METRIC else "5 ft 10"
    return Ask(About.TARGET_HEIGHT, f"{before}How tall are you? For example: {example}", pending)


def _rates(pending: ComputeTarget, region: Region) -> tuple[Choice, ...]:
    unit, steps = ("lb", (0.5, 1.0)) if region is Region.US else ("kg", (0.25, 0.5))
    kg = [quantities.grams(step, unit) / 1000 for step in steps]
    return (
        Choice("keep my weight", replace(pending, kg_per_week=0.0)),
        Choice(f"lose {steps[0]:g} {unit} a week", replace(pending, kg_per_week=-kg[0])),
        Choice(f"lose {steps[1]:g} {unit} a week", replace(pending, kg_per_week=-kg[1])),
        Choice(f"gain {steps[0]:g} {unit} a week", replace(pending, kg_per_week=kg[0])),
    )


def _result(known: ComputeTarget, ex: Exchange) -> Refuse | None:
    sex, years, cm, kg, activity = known.sex, known.years, known.cm, known.kg, known.activity
    if sex is None or years is None or cm is None or kg is None or activity is None:
        raise ValueError("a target is computed once everything is known")
    try:
        found = targets.compute(Body(Sex(sex), kg, cm, years), Activity(activity), known.kg_per_week or 0.0)
    except DomainError as error:
        return Refuse(str(error), Why.RATE)
    aiming.save(SetTarget(kcal=float(round(found.kcal, -1)), day=known.day), ex)
    for line in _steps(found, known):
        ex.say(line)
    if found.floored:
        ex.note(events.Cautioned(kind=CautionKind.FLOOR))
        ex.say(FLOORED)
    return None


def _steps(found: Computed, known: ComputeTarget) -> list[str]:
    body = f"{known.sex}, {known.years:.0f} years, {known.cm:.0f} cm, {known.kg:.1f} kg"
    lines = [
        f"{targets.EQUATION}: at rest {saying.kcal(found.resting_kcal)} ({body}).",
        f"Times {found.factor:g} for {known.activity} (FAO/WHO/UNU 2001): "
        f"{saying.kcal(found.spent_kcal)} a day keeps your weight.",
    ]
    if found.change_kcal:
        way = "less" if found.change_kcal < 0 else "more"
        lines.append(f"{saying.kcal(abs(found.change_kcal))} {way} for {abs(known.kg_per_week or 0):.2g} kg a week.")
    lines.append(
        f"For most people the equation is within 10 %: {found.low_kcal:,.0f} to {saying.kcal(found.high_kcal)}. "
        "Two weeks of weigh-ins and body weights tell more. This is not medical advice."
    )
    return lines
