"""The parts of a consent: what each says, choosing one, and who sees what in the client's own words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

from bot import events, fact_events
from bot.conversation import saying
from bot.conversation.coaching.agreements import matching
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Choice, Refuse
from bot.kinds import About, Topic, Why
from bot.language.guided import ExportFrom, WhoSees, Withhold
from bot.store import coaching, kitchens
from bot.store.books import Books
from bot.store.coaching import Coaching

LEFT_OUT = {
    "body_weight": "body weight",
    "energy": "energy",
    "protein": "protein",
    "comments": "comments on what you eat",
}
"""What belongs to a consent unless it is left out."""
WITHIN = {"energy": "your calories and other sums", "protein": "your protein", "body_weight": "your body weight"}
"""What a coach reads on the sheets unless it is left out."""
ADDED = {
    "cautions": "knows whether a standing caution limits your targets",
    "export": "can have a file of your records",
}
"""What belongs to a consent only once it is given, as told of a coach."""
SEES = {
    ("body_weight", False): "does not see your body weight",
    ("body_weight", True): "sees your body weight",
    ("energy", False): "sees what you eat and weigh and your protein, but no energy and no other sums",
    ("energy", True): "sees your energy and sums",
    ("protein", False): "sees what you eat and weigh, but no energy, no protein and no sums",
    ("protein", True): "sees your protein",
    ("comments", False): "can't comment on your meals and weigh-ins",
    ("comments", True): "can comment on your meals and weigh-ins",
    ("cautions", False): "is not told of standing cautions",
    ("cautions", True): ADDED["cautions"] + ", though not which",
    ("export", False): "can't have a file of your records",
    ("export", True): ADDED["export"] + ", without the parts that you leave out",
}
TOLD = {
    ("body_weight", False): "does not share body weight with you any more.",
    ("body_weight", True): "shares body weight with you again.",
    ("energy", False): "does not share energy with you any more.",
    ("energy", True): "shares energy with you again.",
    ("protein", False): "does not share protein and energy with you any more.",
    ("protein", True): "shares protein with you again.",
    ("comments", False): "wants no comments any more.",
    ("comments", True): "takes comments on meals and weigh-ins again.",
    ("cautions", False): "does not share standing cautions with you any more.",
    ("cautions", True): "shares with you whether a standing caution limits targets.",
    ("export", False): "does not let you have a file of the records any more.",
    ("export", True): "lets you have a file of the records.",
}
"""What the coach is told of it, after the client's name."""


def who_sees(_: WhoSees, ex: Exchange) -> None:
    """Says who can see the person's data."""
    ex.note(events.Answered(about=Topic.COACHING))
    for line in seen_by(ex.books):
        ex.say(line)


def seen_by(books: Books) -> list[str]:
    """A sentence for each person who can see any of this person's data, and what they see."""
    mine = coaching.coaches(books)
    lines = [said for each in mine for said in _seen_by(each, books)]
    if mine:
        lines.append(f"To end it: end coaching with {mine[0].coach}")
        lines.append("Nobody else here sees them; whoever runs this bot keeps the database and its backups.")
    else:
        before = coaching.coaches_before(books)
        if before:
            lines.append(f"{saying.listed(before)} can't see your records any more.")
        lines.append(
            "You have no coach. Nobody here sees your records but you; "
            "whoever runs this bot keeps the database and its backups."
        )
    company = kitchens.others(books)
    if company:
        names = saying.listed([each.name for each in company])
        lines.append(
            f"With {names} you share batches and vessels, and what is left of them; no sheet, weight or target."
        )
    if kitchens.room_of(books.conn, books.person.kitchen_id) is not None:
        lines.append("Batches and vessels also show in the kitchen's group; your records never do.")
    return lines


def last_day(which: Coaching, books: Books) -> date:
    """The last day of a cover on the calendar of the person whose books these are."""
    assert which.until is not None
    return books.day_of(which.until - timedelta(seconds=1))


def _seen_by(which: Coaching, books: Books) -> list[str]:
    withheld = coaching.withheld_from(books, which)
    spared = [said for part, said in LEFT_OUT.items() if part in withheld]
    without = f", but no {saying.listed(spared, 'or')}" if spared else ""
    agreed = which.agreed_at.astimezone(books.person.timezone)
    since = f"{agreed.day} {agreed:%B %Y}"
    role = f"has been your coach since {since} and"
    if which.covers is not None:
        until = saying.day(last_day(which, books), books.today)
        role = f"covers for {which.covers} until {until}, by your yes of {since}, and"
    lines = [f"{which.coach} {role} sees your records and sheets{without}."]
    seen = ["what you eat and what it weighs"]
    seen += [said for part, said in WITHIN.items() if part not in withheld]
    lines.append(f"That is: {saying.listed([*seen, 'your target', 'your open questions'])}.")
    more = [said for part, said in ADDED.items() if part not in withheld]
    if more:
        lines.append(f"{which.coach} {saying.listed(more)}, with your yes.")
    return lines


def withhold(meaning: Withhold, ex: Exchange) -> Refuse | None:
    """Leaves a part out of the consent for a coach, or for all of them, or gives it; they are told."""
    mine = coaching.coaches(ex.books)
    found = matching(meaning.coach, mine, lambda each: each.coach) if meaning.coach else mine
    if not found:
        names = saying.listed([each.coach for each in mine])
        known = f"Your coach: {names}." if mine else "You have no coach, and nobody here sees your records but you."
        return Refuse(f"They are not your coach. {known}" if meaning.coach else known, Why.NO_SUCH_CLIENT)
    followed = [each for each in found if _chosen(meaning, each, ex)]
    if not followed:
        (first, *_) = found
        return Refuse(
            f"{first.coach} covers for {first.covers} and sees what {first.covers} sees. "
            f"To share more, say it of {first.covers}.",
            Why.IMPOSSIBLE,
        )
    ex.note(
        fact_events.SettingChanged(name="withheld", value=f"{meaning.what} {'given' if meaning.given else 'withheld'}")
    )
    names = saying.listed([each.coach for each in followed])
    ex.say(f"From now on: {names} {SEES[meaning.what, meaning.given]}. {names} {_are(followed)} told.")
    return None


def _chosen(meaning: Withhold, which: Coaching, ex: Exchange) -> bool:
    """Applies the choice and tells the coach of a change. Returns whether it now is as chosen."""
    before = meaning.what not in coaching.withheld_from(ex.books, which)
    coaching.choose(ex.books, which.coach_id, meaning.what, meaning.given)
    after = meaning.what not in coaching.withheld_from(ex.books, which)
    if after != before:
        ex.tell(which.coach_id, f"{which.called} {TOLD[meaning.what, meaning.given]}")
    return after == meaning.given


def _are(found: Sequence[Coaching]) -> str:
    return "is" if len(found) == 1 else "are"


def asked_for_export(meaning: ExportFrom, ex: Exchange) -> Ask | None:
    """Asks the client, in their own turn, whether a coach may have a file of their records."""
    which = coaching.coach(ex.books, meaning.coach)
    if which is None or "export" not in coaching.withheld_from(ex.books, which):
        return None
    if meaning.declined:
        ex.say(f"All right: {which.coach} gets no file of your records, and is told.")
        ex.tell(which.coach_id, f"{which.called} does not want a file of the records to be taken.")
        return None
    ex.say(f"{which.by}, asks for a file of your records.")
    withheld = coaching.withheld_from(ex.books, which)
    spared = [said for part, said in LEFT_OUT.items() if part in withheld and part != "comments"]
    without = f" It has no {saying.listed(spared, 'or')}, as you chose." if spared else ""
    text = (
        f"If you agree, {which.coach} can have such a file at any time: weigh-ins, labels, measures, targets and body "
        f"weights, but none of your messages.{without} To take it back: {which.coach} may not export my data. May {which.coach} have it?"
    )
    yes = Withhold(what="export", coach=which.coach, given=True)
    return Ask(About.PART, text, meaning, (Choice("yes", yes), Choice("no", replace(meaning, declined=True))))
