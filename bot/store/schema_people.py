"""The tables of people, and of who shares what with whom."""

from sqlalchemy import Boolean, Column, Date, ForeignKey, Index, Integer, Table, Text, UniqueConstraint

from bot.store.columns import Moment, Whole, Words, metadata, one_of, own_id, partial_index, refers_to, words

kitchen = Table(
    "kitchen",
    metadata,
    own_id(),
    # The number the newest batch got; numbers are given once, also when the batch is undone.
    Column("batches", Whole, nullable=False),
)

person = Table(
    "person",
    metadata,
    own_id(),
    words("name"),
    Column("region", Text, nullable=False),
    Column("timezone", Text, nullable=False),
    Column("role", Text, nullable=False),
    refers_to("kitchen_id", "kitchen"),
    # The hour at which the person's day starts; what is eaten before it stands on the day before.
    Column("day_starts", Integer, nullable=False, server_default="0"),
)

address = Table(
    "address",
    metadata,
    Column("channel", Text, primary_key=True),
    Column("key", Words, primary_key=True),
    refers_to("person_id", "person"),
    # Since when nothing can be delivered there: the person has blocked the bot, or is gone.
    Column("blocked_at", Moment),
    Index(None, "person_id"),
)

# A group whose talk is a kitchen's.
room = Table(
    "room",
    metadata,
    Column("channel", Text, primary_key=True),
    Column("place", Words, primary_key=True),
    refers_to("kitchen_id", "kitchen"),
    Index(None, "kitchen_id"),
)

invite = Table(
    "invite",
    metadata,
    own_id(),
    Column("code_hash", Text, nullable=False),
    Column("purpose", Text, nullable=False),
    # Who invites, and what they call the one they invite; nobody when it was the operator.
    refers_to("made_by", "person", nullable=True),
    words("called", nullable=True),
    Column("made_at", Moment, nullable=False),
    Column("expires_at", Moment, nullable=False),
    Column("used_at", Moment),
    refers_to("used_by", "person", nullable=True),
    UniqueConstraint("code_hash"),
)

# Whom a coach guides: from the client's yes until either side ends it. The coach sees something only while it stands.
coaching = Table(
    "coaching",
    metadata,
    own_id(),
    refers_to("coach_id", "person"),
    refers_to("client_id", "person"),
    # What the coach calls the client.
    words("called"),
    Column("agreed_at", Moment, nullable=False),
    Column("ended_at", Moment),
    refers_to("ended_by", "person", nullable=True),
    # Where it is a cover: the moment it ends by itself, and the coach who is covered for.
    Column("until", Moment),
    refers_to("covers_id", "person", nullable=True),
    partial_index("uq_coaching_standing", "coach_id", "client_id", where="ended_at IS NULL", unique=True),
    Index(None, "client_id"),
)

# A client whom a colleague is asked to cover for a coach, until all three have said yes, or the client no.
cover_request = Table(
    "cover_request",
    metadata,
    own_id(),
    refers_to("invite_id", "invite"),
    refers_to("coach_id", "person"),
    refers_to("client_id", "person"),
    # Whoever has taken the invitation.
    refers_to("colleague_id", "person", nullable=True),
    Column("last_day", Date, nullable=False),
    Index(None, "invite_id"),
)

# Words that a coach sends again and again.
template = Table(
    "template",
    metadata,
    own_id(),
    refers_to("coach_id", "person"),
    words("name"),
    words("text"),
    Column("at", Moment, nullable=False),
    UniqueConstraint("coach_id", "name"),
)

# What a coach keeps about a client for themselves: notes, a flag, the names of groups. Gone with either of the two.
remark = Table(
    "remark",
    metadata,
    own_id(),
    refers_to("coach_id", "person"),
    refers_to("client_id", "person"),
    Column("kind", Text, nullable=False),
    words("text"),
    Column("at", Moment, nullable=False),
    one_of("kind", "note", "flag", "group"),
    Index(None, "coach_id", "client_id"),
    Index(None, "client_id"),
)

# The message in which the person's day stands, edited as the day goes on; empty text: it is to be given up.
day_message = Table(
    "day_message",
    metadata,
    Column("person_id", Whole, ForeignKey("person.id"), primary_key=True),
    Column("day", Date, nullable=False),
    words("text"),
    # Whether it is to be pinned.
    Column("pin", Boolean, nullable=False),
    # The channel's references of the day's message, once it is sent, and of the one that is pinned.
    words("message_ref", nullable=True),
    words("pinned_ref", nullable=True),
)
