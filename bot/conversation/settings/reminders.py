"""Reminders: their times and days, snoozing, and the question for a time."""

from __future__ import annotations

from datetime import time, timedelta

from bot import fact_events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.questions.stored import decode
from bot.kinds import About
from bot.language.asked import DayDone
from bot.language.setting_meanings import AskReminderTime, SetReminder, Snooze
from bot.store import facts, questions, schedules
from bot.store.books import Books
from bot.store.schedules import SNOOZES, USUAL_TIMES

NAMES = {
    "week": "weekly summary",
    "good": "“still good?” reminder",
    "cook": "cook day reminder",
    "digest": "digest",
    "usual": "breakfast offer",
}
DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
ALL_DAYS = "0123456"
USUAL_TIME = USUAL_TIMES["evening"]
AT_THE_START = (
    "In the evening I remind you if the day looks incomplete. What time suits you? "
    f"If you don't answer, it's {USUAL_TIME}."
)
TIMES_AT_THE_START = (USUAL_TIME, "19:00", "21:30")
DAY_DONE = "day_done"
"""The setting that holds the last day whose record the person has called complete."""
LONGEST_SNOOZE = 6 * 60


def set_reminder(meaning: SetReminder, ex: Exchange) -> Ask | Refuse | None:
    """Saves a reminder's time and days, or turns it off."""
    name = name_of(meaning.what)
    clock = meaning.time
    if clock == "":
        clock = facts.reminders(ex.books).get(meaning.what) or USUAL_TIMES.get(meaning.what, USUAL_TIME)
    facts.save_reminder(ex.books, meaning.what, clock)
    _settle(meaning.what, ex)
    ex.note(fact_events.ReminderSet(what=meaning.what, time=clock))
    if clock is None:
        ex.say(f"The {name} is off.")
        return None
    days = ""
    if meaning.weekdays is not None:
        setting = f"{meaning.what} days"
        if facts.settings(ex.books).get(setting, ALL_DAYS) != meaning.weekdays:
            facts.save_setting(ex.books, setting, meaning.weekdays)
            ex.note(fact_events.SettingChanged(name=setting, value=meaning.weekdays))
        days = f", {_days(meaning.weekdays)}"
    ex.say(f"The {name} is set to {clock}{days}.")
    quiet = facts.settings(ex.books).get("quiet", "off")
    if quiet != "off" and _inside(time.fromisoformat(clock), quiet):
        ex.say(f"That is within your quiet hours ({quiet}), so it would not be sent. Say: quiet hours off")
    return None


def reminder_lines(ex: Exchange) -> list[str]:
    """A line for each reminder with its time, and for each that is off."""
    scheduled = schedules.of_person(ex.books.conn, ex.books.person.id)
    lines = []
    for kind, each in sorted(scheduled.items()):
        if each.next_due is not None:
            days = f", {_days(each.weekdays)}" if each.weekdays else ""
            lines.append(f"{saying.first_up(name_of(kind))}: {each.time}{days}")
    off = [kind for kind, clock in facts.reminders(ex.books).items() if clock is None]
    lines.extend(f"{saying.first_up(name_of(kind))}: off" for kind in sorted(off))
    return lines


def name_of(kind: str) -> str:
    """What a reminder is called in a sentence: 'weekly summary', 'evening reminder'."""
    return "snoozed reminder" if kind in SNOOZES else NAMES.get(kind, f"{kind} reminder")


def _days(weekdays: str) -> str:
    if len(weekdays) == len(DAYS):
        return "every day"
    return f"on {saying.listed([DAYS[int(day)] for day in weekdays])}"


def _inside(clock: time, quiet: str) -> bool:
    first, last = (time.fromisoformat(part) for part in quiet.split("-"))
    return first <= clock < last if first <= last else clock >= first or clock < last


def ask_reminder_time(meaning: AskReminderTime, ex: Exchange) -> Ask:
    """Asks for a reminder's time."""
    text = f"What time should the {name_of(meaning.what)} come?"
    return _ask_time(text, meaning, ("20:00", "20:30", "21:00"), "off", ex)


def _ask_time(text: str, meaning: AskReminderTime, times: tuple[str, ...], off: str, ex: Exchange) -> Ask:
    _settle(meaning.what, ex)
    choices = tuple(Choice(clock, SetReminder(what=meaning.what, time=clock)) for clock in times)
    return Ask(About.REMINDER_TIME, text, meaning, (*choices, Choice(off, SetReminder(what=meaning.what, time=None))))


def _settle(what: str, ex: Exchange) -> None:
    """Drops an earlier question for this reminder's time."""
    for question in questions.waiting(ex.books):
        if question.about == About.REMINDER_TIME and decode(question.subject)[0] == AskReminderTime(what=what):
            questions.dropped(ex.books, question.id)


def welcome(ex: Exchange) -> str:
    """What is sent without being asked for, and in which time zone."""
    evening = facts.reminders(ex.books).get("evening", USUAL_TIME)
    told = f"If a day looks incomplete, I remind you at {evening}. To change the time: remind me at 21:15. "
    if evening is None:
        told = "The evening reminder is off. To turn it on: remind me at 20:30. "
    zone = ex.books.person.timezone.key
    return (
        f"{told}On Sundays I send a summary of your week. To turn it off: weekly summary off. "
        f"Your time zone is {zone}; if not, say your city, for example: timezone Lisbon"
    )


def is_to_be_asked(ex: Exchange) -> bool:
    """Whether to ask the newcomer for the evening reminder's time, which is done once."""
    return ex.welcomes and "evening" not in facts.reminders(ex.books) and facts.first_time(ex.books, "reminder time")


def ask_at_the_start(ex: Exchange) -> Ask:
    """Asks for the evening reminder's time."""
    return _ask_time(AT_THE_START, AskReminderTime(what="evening"), TIMES_AT_THE_START, "no reminder", ex)


def day_done(_: DayDone, ex: Exchange) -> None:
    """Takes the day's record for complete: the evening reminder does not come any more today."""
    facts.save_setting(ex.books, DAY_DONE, ex.books.today.isoformat())
    ex.note(fact_events.SettingChanged(name=DAY_DONE, value=ex.books.today.isoformat()))
    ex.say("Good, then today is complete, and I won't remind you of it.")
    ex.changed_days.add(ex.books.today)


def is_done(books: Books) -> bool:
    """Whether the person has said that today's record is complete."""
    return facts.settings(books).get(DAY_DONE) == books.today.isoformat()


def snooze(meaning: Snooze, ex: Exchange) -> Ask | Refuse | None:
    """Schedules the evening reminder once more, later the same day."""
    if not 1 <= meaning.minutes <= LONGEST_SNOOZE:
        return Refuse(f"I can put it off by up to {LONGEST_SNOOZE // 60} hours.")
    books = ex.books
    until = books.at + timedelta(minutes=meaning.minutes)
    local = until.astimezone(books.person.timezone)
    if local.date() != books.local.date():
        return Refuse("That is already tomorrow, when the next evening reminder comes anyway.")
    last = schedules.last_days(books.conn, books.person.id)
    free = next((kind for kind in SNOOZES if last.get(kind) != local.date()), None)
    if free is None:
        return Refuse("You have snoozed it twice today already, and I remind you no more often than that.")
    schedules.put(books.conn, books.person, free, f"{local:%H:%M}", "", until, local.date())
    ex.note(fact_events.ReminderSet(what="snooze", time=f"{local:%H:%M}"))
    ex.say(f"Again at {local:%H:%M}, if something is still missing then.")
    return None
