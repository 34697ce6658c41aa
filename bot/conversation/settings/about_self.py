"""Calm words about what people say of themselves, and the standing cautions that are remembered with their leave.

Each reply recognises what was said and refers to help, in two lines of at most 40 words together with the question that
may follow, without a figure, praise or dietary advice; where there may be danger, emergency services come first.

The guidance behind the words, from memory: NICE NG225 (self-harm: respect, no judgement, ask about safety, urgent help
where there is danger) and the Samaritans' and WHO's advice on talking about suicide; NICE NG69 and the UK NHS's pages on
eating disorders (no comment on weight or food, a GP or a helpline early; chest pain, fainting and vomited blood are
emergencies); NICE CG32 (after days with little food, a doctor before eating resumes); NICE NG17 and the US CDC's pages
on diabetes (drowsiness, confusion and vomiting are emergencies; the diabetes team before a change of diet); NICE NG247
and NHS pages on pregnancy and breastfeeding (no weight loss by dieting; midwife, health visitor or doctor); the CDC's
and NHS's advice that children's weight and eating belong with a doctor or school nurse.
"""

from __future__ import annotations

from datetime import date
from typing import Final

from bot import events, fact_events
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice
from bot.kinds import About, CautionKind
from bot.language.fact_meanings import AboutSelf
from bot.language.meanings import Meaning
from bot.language.setting_meanings import SetSetting
from bot.store import facts
from domain.targets import ADULT_YEARS

WORDS: Final = {
    "pregnant": (
        "Thank you for telling me you are pregnant.",
        "What is right for you now is for your midwife or doctor to say; please ask them before you follow any target.",
    ),
    "breastfeeding": (
        "Thank you for telling me you are breastfeeding.",
        "What is right for you now is for your midwife, health visitor or doctor to say; please ask before following any target.",
    ),
    "insulin": (
        "Thank you for telling me you take insulin.",
        "Please agree any change with your diabetes team first. If you feel confused or drowsy, call emergency services.",
    ),
    "diabetes": (
        "Thank you for telling me you have diabetes.",
        "Please agree any change with your doctor or diabetes team first; they know what is safe for you.",
    ),
    "eating_disorder": (
        "Thank you for telling me; that is a lot to live with, and you deserve support.",
        "Please talk to your doctor or an eating disorder helpline before tracking anything here.",
    ),
    "minor": (
        "Thank you for telling me your age. While you are growing I compute no target.",
        "A doctor, school nurse or a grown-up you trust can help with anything about eating.",
    ),
    "purging": (
        "I'm sorry, that sounds hard. If you feel faint, have chest pain or see blood, call emergency services now.",
        "You're not alone: please talk to a doctor or an eating disorder helpline today.",
    ),
    "fasting": (
        "I'm sorry, that is a long time without food. If you feel faint or confused, call emergency services now.",
        "Otherwise please talk to a doctor today, whatever the reason; a helpline can listen too.",
    ),
    "self_harm": (
        "I'm glad you told me. If you are hurt or might act on it, please call emergency services now.",
        "You are not alone in this: a crisis line, a doctor or somebody you trust can help.",
    ),
    "blood_sugar": (
        "If you feel shaky, drowsy, confused or sick, call emergency services now.",
        "I hear your reading, but I can't judge it: please ask your diabetes team or doctor what to do.",
    ),
    "emergency": (
        "Please call emergency services now, or have somebody near you call.",
        "Don't stay alone; they will tell you what to do until help comes.",
    ),
    "poison": (
        "Please call emergency services or a poison centre now, even without any symptoms.",
        "If it was meant to harm you, a crisis line will listen too; you deserve help.",
    ),
    "medicine": (
        "If that was more than prescribed, or anyone feels unwell, call a poison centre or emergency services now.",
        "I don't record medicines; your doctor or pharmacist can help.",
    ),
    "dose": (
        "I don't record medicines; your doctor or pharmacist can help with them.",
        "If it was ever more than prescribed, a poison centre or emergency services can tell you what to do.",
    ),
    "distress": (
        "I'm sorry, that sounds hard. If you might hurt yourself, please call emergency services.",
        "You deserve kindness: a doctor, an eating disorder helpline or somebody you trust can help.",
    ),
    "weight_goal": (
        "I hear you. If you feel faint or weak, please call emergency services.",
        "I can't judge whether that weight is safe for you: please talk to a doctor or dietitian first.",
    ),
}  # fmt: skip
"""The two lines for each thing that somebody says about themselves."""
DANGER: Final = frozenset(
    {
        "purging",
        "fasting",
        "self_harm",
        "blood_sugar",
        "emergency",
        "poison",
        "medicine",
        "dose",
        "distress",
        "weight_goal",
    }
)
"""What asks for help first: nothing is asked then, and no waiting question is repeated."""
WRITTEN_DOWN: Final = "Your food is recorded."
"""All that is said of weigh-ins beside words of danger: no figure."""
WEIGHT_WRITTEN_DOWN: Final = "Your weight is recorded."
KEPT: Final = "Your food is kept."
"""The same where something about them is still to be asked."""
IN_PRIVATE: Final = "I have written to you in our private chat."
REMEMBER: Final = "Do you want me to remember this?"
PREFIX: Final = "caution_"
"""The beginning of the names of settings that hold a standing caution."""
CLINICIAN: Final = f"{PREFIX}clinician"
"""The caution of somebody who said yes to the screening question, which does not ask to what of it."""
SETTINGS: Final = (*(f"{PREFIX}{kind}" for kind in WORDS if kind not in DANGER), CLINICIAN)
"""The settings that hold standing cautions: `yes`, `no`, or the day on which it ends."""
REMEMBERED: Final = (
    "I'll remember it, and only you can see it. It is part of your export and is erased with your other records."
)
ALL: Final = "cautions"
"""The setting that stands for all of them, to be forgotten."""
FORGOTTEN: Final = "Forgotten: it no longer counts for your targets."
_STANDS: Final = "yes"


def heard(meaning: AboutSelf, ex: Exchange) -> Ask | None:
    """Answers with the words for it and, where there is no danger, asks whether to remember it."""
    first, second = WORDS[meaning.kind]
    if ex.group is not None:
        ex.tell(ex.books.person.id, f"{first}\n{second}")
        ex.say(IN_PRIVATE)
        return None
    ex.note(events.Cautioned(kind=CautionKind.ABOUT_SELF))
    ex.say(first)
    if meaning.kind in DANGER:
        ex.say(second)
        ex.undisturbed = len(ex.lines)
        return None
    until = _grown_up_on(meaning.years, ex.books.today)
    value = _STANDS if until is None else until.isoformat()
    return remember(f"{PREFIX}{meaning.kind}", value, meaning, f"{second} {REMEMBER}")


def kept(ex: Exchange) -> list[str]:
    """What is said of records beside a danger: that they are there, without a figure."""
    if any(isinstance(event, events.WeighInRecorded) for event in ex.events):
        return [WRITTEN_DOWN]
    if any(isinstance(event, fact_events.BodyWeightSaved) for event in ex.events):
        return [WEIGHT_WRITTEN_DOWN]
    return [KEPT] if ex.asked else []


def remember(name: str, value: str, pending: Meaning, text: str = REMEMBER) -> Ask:
    """The question whether to remember a standing caution."""
    choices = (Choice("yes, remember it", SetSetting(name=name, value=value)), Choice("no", None))
    return Ask(About.STANDING_CAUTION, text, pending, choices)


def forget(ex: Exchange) -> None:
    """Takes back every standing caution that was remembered."""
    kept = facts.settings(ex.books)
    for name in SETTINGS:
        if kept.get(name, "no") != "no":
            facts.save_setting(ex.books, name, "no")
            ex.note(fact_events.SettingChanged(name=name, value="no"))
    ex.say(FORGOTTEN)


def _grown_up_on(years: int | None, today: date) -> date | None:
    """The day from which somebody of that age today is certainly grown up."""
    if years is None:
        return None
    year = today.year + ADULT_YEARS - years
    # 29 February falls on 1 March in other years.
    return today.replace(year=year, day=1, month=3) if (today.month, today.day) == (2, 29) else today.replace(year=year)
