"""Region, time zone, start of the day, quiet hours, and how long message texts are kept."""

from __future__ import annotations

from datetime import UTC, datetime, time
from zoneinfo import ZoneInfo

from bot import fact_events
from bot.conversation import saying
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.conversation.settings import about_self
from bot.kinds import About, Why
from bot.language.setting_meanings import LocalTime, SetSetting
from bot.store import coaching, facts, people
from bot.store.ownership import retention
from domain.errors import DomainError
from domain.quantities import Region
from domain.targets import check_height

SETTINGS = {
    "region": "Your region is {} now.",
    "timezone": "Your time zone is {} now.",
    "sex": "A computed target uses the equation's {} form from now on.",
    "height_cm": "Height: {} cm.",
    "born": "Noted: born about {}.",
    "quiet": "Quiet hours: {}. I send nothing unasked then.",
    retention.SETTING: "I keep the words of your messages for {} days from now on; what was recorded stays.",
    **dict.fromkeys(about_self.SETTINGS, about_self.REMEMBERED),
    "energy": "{}",
    "day_message": "{}",
    "receipts": "{}",
    "day_starts": "Your day starts at {}:00 from now on; what you eat earlier counts for the day before.",
}
ENERGY = {
    "hidden": "From now on you see weights and meals only. To have it back, say: show calories again",
    "shown": "Energy is shown again from now on.",
}
DAY_MESSAGE = {
    "on": "Your day stands in one message from now on, which I edit after each weigh-in. To pin it: pin my day",
    "pinned": "Your day stands in one pinned message from now on, which I edit after each weigh-in. To end it: day message off",
    "off": "Your day no longer stands in one message.",
}
RECEIPTS = {
    "short": "Weigh-ins are answered in one line from now on. For more: full replies",
    "reaction": "Weighing something is answered with a reaction from now on, where a reaction says it all. For more: full replies",
    "full": "Weigh-ins are answered in full from now on.",
}
_CHOSEN = {"energy": ENERGY, "day_message": DAY_MESSAGE, "receipts": RECEIPTS}
"""What is said of the values of settings that have only some."""
NOT_TOLD = (
    "{0} is not told. To tell {0} that it limits your targets, though not what it is: {0} may know about my cautions"
)
_BEFORE = " before"
_KEPT_WITH_PERSON = frozenset({"region", "timezone", "day_starts"})

PLACES = (
    "Europe/London", "Europe/Lisbon", "Europe/Berlin", "Europe/Paris", "Europe/Athens", "Europe/Helsinki",
    "Europe/Istanbul", "Europe/Moscow", "Africa/Lagos", "Africa/Cairo", "Africa/Johannesburg", "Africa/Nairobi",
    "Asia/Dubai", "Asia/Tehran", "Asia/Kabul", "Asia/Karachi", "Asia/Kolkata", "Asia/Kathmandu", "Asia/Dhaka",
    "Asia/Yangon", "Asia/Bangkok", "Asia/Shanghai", "Asia/Singapore", "Australia/Perth", "Asia/Tokyo", "Asia/Seoul",
    "Australia/Adelaide", "Australia/Darwin", "Australia/Sydney", "Australia/Brisbane", "Pacific/Auckland",
    "Pacific/Honolulu", "America/Anchorage", "America/Los_Angeles", "America/Vancouver", "America/Phoenix",
    "America/Denver", "America/Chicago", "America/Mexico_City", "America/New_York", "America/Toronto",
    "America/Bogota", "America/Halifax", "America/Caracas", "America/St_Johns", "America/Sao_Paulo",
    "America/Argentina/Buenos_Aires", "Atlantic/Azores", "UTC",
)  # fmt: skip
"""Time zones that a local time may point to, the most populous of each region first."""
_QUARTER = 15 * 60
DEFAULT_ZONE = "UTC"


def set_setting(meaning: SetSetting, ex: Exchange) -> Ask | Refuse | None:
    """Saves a setting, or refuses a value that is not possible."""
    if meaning.name == about_self.ALL:
        about_self.forget(ex)
        return None
    try:
        _check(meaning)
    except DomainError as error:
        return Refuse(str(error))
    if meaning.name in _KEPT_WITH_PERSON:
        # Undo restores this value, also when it was never set by hand.
        facts.save_setting(ex.books, meaning.name + _BEFORE, _with_person(meaning.name, ex))
        _apply(meaning.name, meaning.value, ex)
    facts.save_setting(ex.books, meaning.name, meaning.value)
    ex.note(fact_events.SettingChanged(name=meaning.name, value=meaning.value))
    told = (
        about_self.FORGOTTEN
        if meaning.name in about_self.SETTINGS and meaning.value == "no"
        else SETTINGS[meaning.name]
    )
    chosen = _CHOSEN.get(meaning.name)
    ex.say(told.format(meaning.value if chosen is None else chosen[meaning.value]))
    if told == about_self.REMEMBERED:
        for each in coaching.coaches(ex.books):
            ex.say(NOT_TOLD.format(each.coach))
    return None


def _check(meaning: SetSetting) -> None:
    if meaning.name == "height_cm":
        check_height(float(meaning.value))
    if meaning.name == "day_starts" and int(meaning.value) > 12:
        raise DomainError("A day can start between 0:00 and 12:00.")
    if meaning.name == retention.SETTING and int(meaning.value) not in retention.DAYS:
        raise DomainError(f"I can keep your messages for {retention.DAYS[0]} to {retention.DAYS[-1]:,} days.")


def _with_person(name: str, ex: Exchange) -> str:
    person = ex.books.person
    return {"region": person.region.value, "timezone": person.timezone.key, "day_starts": str(person.day_starts)}[name]


def _apply(name: str, value: str, ex: Exchange) -> None:
    conn, person_id = ex.books.conn, ex.books.person.id
    if name == "region":
        people.update(conn, person_id, region=Region(value))
    elif name == "timezone":
        people.update(conn, person_id, timezone=ZoneInfo(value))
    else:
        people.update(conn, person_id, day_starts=int(value))


def is_aside(name: str) -> bool:
    """Whether a setting only holds the former value of another, for undo."""
    return name.endswith(_BEFORE)


def restore(name: str, before_undo: dict[str, str], ex: Exchange) -> None:
    """Restores the person's former value of an undone setting; `before_undo` are the settings before the undo."""
    if name in _KEPT_WITH_PERSON and name + _BEFORE in before_undo:
        _apply(name, before_undo[name + _BEFORE], ex)


def local_time(meaning: LocalTime, ex: Exchange) -> Ask | Refuse | None:
    """Sets the time zone that a local time points to, or asks when there are several."""
    at = ex.books.at
    said = time.fromisoformat(meaning.clock)
    places = [zone for zone in PLACES if _shows(zone, said, at)]
    zone = ex.books.person.timezone.key
    # UTC is the default and nobody's choice; in winter it shows the same time as London, which has summer time.
    if zone != DEFAULT_ZONE and _shows(zone, said, at):
        ex.say(f"That is the time in {zone}, which is already your time zone.")
        return None
    if not places:
        return Refuse("No place I know of has that time now. Say your city, for example: timezone Lisbon", Why.ZONE)
    if len(places) == 1:
        return set_setting(SetSetting(name="timezone", value=places[0]), ex)
    choices = tuple(
        Choice(saying.choice(zone.rsplit("/", 1)[-1].replace("_", " ")), SetSetting(name="timezone", value=zone))
        for zone in places[:4]
    )
    text = "Which of these has your time zone? Any other city works too, for example: timezone Lisbon"
    return Ask(About.TIMEZONE, text, meaning, choices)


def _shows(zone: str, said: time, at: datetime) -> bool:
    """Whether it is that time in the zone now, within half of a quarter of an hour."""
    local = at.astimezone(UTC).astimezone(ZoneInfo(zone))
    off = (said.hour * 3600 + said.minute * 60) - (local.hour * 3600 + local.minute * 60 + local.second)
    return abs((off + 43_200) % 86_400 - 43_200) <= _QUARTER / 2
