"""Sharing less or again: the one question where it is not certain what is to be withdrawn, and the way back."""

from __future__ import annotations

from dataclasses import replace

from bot import events, people_events
from bot.conversation import saying
from bot.conversation.coaching import parts
from bot.conversation.coaching.agreements import LONGEST_NAME, NO, YES, free_name, matching
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.kinds import About, Topic, Why
from bot.language.guided import EndCoaching, ShareAgain, StopSharing, WhoSees, Withhold
from bot.store import coaching
from bot.store.coaching import Left

STOP, NO_WEIGHT, NO_ENERGY, NOTHING = (
    "yes, stop sharing all", "only hide my weight", "only hide my calories", "no, change nothing",
)  # fmt: skip


def stop(meaning: StopSharing, ex: Exchange) -> Ask | Refuse | None:
    """Asks what a coach is to see no more; without a coach it says that nobody sees anything."""
    mine = coaching.coaches(ex.books)
    found = matching(meaning.coach, mine, lambda each: each.coach) if meaning.coach else mine
    if not found or meaning.kept:
        parts.who_sees(WhoSees(), ex)
        return None
    names = saying.listed([each.coach for each in found])
    choices = (
        Choice(STOP, EndCoaching(whom=meaning.coach)),
        Choice(NO_WEIGHT, Withhold(what="body_weight", coach=meaning.coach)),
        Choice(NO_ENERGY, Withhold(what="energy", coach=meaning.coach)),
        Choice(NOTHING, replace(meaning, kept=True)),
    )
    text = f"Do you want to stop sharing with {names}? You can also leave out a part, and take it back at any time."
    return Ask(About.PART, text, meaning, choices)


def again(meaning: ShareAgain, ex: Exchange) -> Ask | Refuse | None:
    """Gives back the parts that were left out; where the person has ended the coaching, it begins again on a yes."""
    mine = coaching.coaches(ex.books)
    found = matching(meaning.coach, mine, lambda each: each.coach) if meaning.coach else mine
    if found:
        given = {part for each in found for part in coaching.withheld_from(ex.books, each) & coaching.SHARED}
        for part in sorted(given, key=list(parts.LEFT_OUT).index):
            # What comes back with another part is given already; each is told all the same.
            parts.withhold(Withhold(what=part, coach=meaning.coach, given=True), ex)  # type: ignore[arg-type]
        if not given:
            parts.who_sees(WhoSees(), ex)
        return None
    before = coaching.left_by_client(ex.books)
    left = matching(meaning.coach, before, lambda each: each.coach) if meaning.coach else before
    if not left:
        return Refuse("You have no coach. To share with one, send me the code of their invitation.", Why.NO_SUCH_CLIENT)
    (which, *others) = left
    if others:
        choices = tuple(Choice(saying.choice(each.coach), ShareAgain(coach=each.coach)) for each in left[:4])
        return Ask(About.COACHING, "Who is to see your sheets again?", meaning, choices)
    return _begin(which, meaning, ex)


def _begin(which: Left, meaning: ShareAgain, ex: Exchange) -> Ask | None:
    """Asks for the consent, which shows the records from the first on, and begins the coaching on a yes."""
    if not meaning.settled:
        yes, no = (ShareAgain(coach=which.coach, settled=answer) for answer in ("yes", "no"))
        text = f"Do you want {which.coach} to be your coach again and see your sheets, also those of the time between?"
        return Ask(About.COACHING, text, meaning, (Choice(YES, yes), Choice(NO, no)))
    if meaning.settled == "no":
        ex.note(events.Answered(about=Topic.COACHING))
        ex.say(f"All right, {which.coach} can't see any of your records.")
        return None
    called = free_name(which.called[:LONGEST_NAME], coaching.names_taken(ex.books, which.coach_id))
    coaching.begin(ex.books, which.coach_id, called)
    ex.note(people_events.CoachingAgreed(coach=which.coach, client=called))
    ex.say(f"{which.coach} is your coach again and sees your sheets. To end it: end coaching with {which.coach}")
    ex.tell(which.coach_id, f"{called} shares with you again: you are {called}'s coach.")
    return None
