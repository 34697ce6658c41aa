"""What is said where no conversation takes place: to strangers, about buttons, about what is not text."""

BY_INVITATION = (
    "Hello! This Tarebook is for invited people. If somebody gave you an invitation, open its link, "
    "or send /start followed by its code."
)
BAD_INVITATION = "That invitation is used up, too old or mistyped. Please ask for a new one."
NOT_LISTED = "Hello! This Tarebook is for a closed circle of people, and you are not on its list."

NOT_YOURS = "These buttons are for somebody else."
NO_LONGER = "This button is out of use. Please type your answer."

UNREADABLE = "Your last message reached me in a form that I can't read. It is kept; please type it once more."

_KINDS = {
    "photo": "photos",
    "voice": "voice messages",
    "video_note": "video messages",
    "video": "videos",
    "audio": "audio files",
    "animation": "moving pictures",
    "document": "files",
    "sticker": "stickers",
    "location": "places",
    "venue": "places",
    "contact": "contacts",
    "poll": "polls",
}


def no_words(kind: str) -> str:
    """The answer to a message without text, by the kind of thing it holds."""
    what = _KINDS.get(kind, "messages of that kind")
    return f"I can't make anything of {what}. Please type what the scale says, for example: 180 g cooked rice"


def out_of_touch(since: str, until: str) -> str:
    """The notice after a silence so long that messages were lost; both moments as text on the person's clock."""
    return (
        f"I was out of touch for over a day, since {since}. What you sent before {until} may not have reached me: "
        "please look through your sheet, and send what is missing once more."
    )
