"""Closed sets of words that are stored in the database or printed by `tarebook converse`.

The values are a contract: a stored one must always be readable, and scripts read the printed ones.
"""

from __future__ import annotations

from enum import StrEnum


class About(StrEnum):
    """What a question is about, which decides how a free answer to it is taken."""

    AMOUNT = "amount"
    BARE = "bare"
    BATCH = "batch"
    BOX = "box"
    BOX_COUNT = "box_count"
    BOX_WEIGHT = "box_weight"
    CHANGE = "change"
    CLIENT = "client"
    CLIENT_TARGET = "client_target"
    COACHING = "coaching"
    COOKED_WEIGHT = "cooked_weight"
    CORRECT_COOKED = "correct_cooked"
    COVER = "cover"
    DELETE = "delete"
    DRINK = "drink"
    EATEN = "eaten"
    END_COACHING = "end_coaching"
    ERASE = "erase"
    FOOD = "food"
    INGREDIENTS = "ingredients"
    INGREDIENT_AMOUNT = "ingredient_amount"
    INGREDIENT_DRINK = "ingredient_drink"
    INGREDIENT_FOOD = "ingredient_food"
    INGREDIENT_TARE = "ingredient_tare"
    INVITATION = "invitation"
    KITCHEN_JOIN = "kitchen_join"
    KITCHEN_LEAVE = "kitchen_leave"
    KITCHEN_ROOM = "kitchen_room"
    LABEL = "label"
    LABEL_FIGURES = "label_figures"
    LABEL_NAME = "label_name"
    LABEL_SERVING = "label_serving"
    LOW_TARGET = "low_target"
    MUCH = "much"
    OVER_DRAW = "over_draw"
    PART = "part"
    POURED_OFF = "poured_off"
    REMINDER_TIME = "reminder_time"
    REWEIGH = "reweigh"
    SHARE = "share"
    SHARED = "shared"
    STATE = "state"
    STATE_ROW = "state_row"
    STANDING_CAUTION = "standing_caution"
    TARE = "tare"
    TARE_WEIGHT = "tare_weight"
    TARGET_ACTIVITY = "target_activity"
    TARGET_AGE = "target_age"
    TARGET_CONDITION = "target_condition"
    TARGET_HEIGHT = "target_height"
    TARGET_RATE = "target_rate"
    TARGET_SEX = "target_sex"
    TARGET_WEIGHT = "target_weight"
    TIMEZONE = "timezone"
    TO_MANY = "to_many"
    UNIT = "unit"
    WHICH = "which"
    WHICH_QUESTION = "which_question"
    WHICH_COACH = "which_coach"
    WHICH_INGREDIENT = "which_ingredient"
    WHOLE_OR_LEFT = "whole_or_left"
    YIELD = "yield"


class QuestionState(StrEnum):
    """Whether a question still waits."""

    WAITING = "waiting"
    ANSWERED = "answered"
    DROPPED = "dropped"


class Confirmed(StrEnum):
    """What the person has said yes to, so that it is not asked again."""

    AGAIN = "again"
    """A cooked weight that replaces another."""
    BATCH = "batch"
    """The batch and not the plain food of that name."""
    LABEL = "label"
    """A label's figures that look wrong."""
    LOW = "low"
    """A target below the floor."""
    MUCH = "much"
    """An amount that hardly anybody eats at once."""
    OVER = "over"
    """A portion larger than what is left."""
    WEIGHT = "weight"
    """Ounces of a drink that are a weight."""
    WEIGHT_ONLY = "weight only"
    """A weigh-in without figures."""
    YIELD = "yield"
    """A cooked weight that looks wrong."""


class Why(StrEnum):
    """Why something was refused."""

    AGE = "age"
    BAD_CODE = "bad_code"
    BATCH_EDIT = "batch_edit"
    BATCH_PORTION = "batch_portion"
    CLINICIAN = "clinician"
    FIGURES = "figures"
    FUTURE = "future"
    IMPOSSIBLE = "impossible"
    LEFT_KITCHEN = "left_kitchen"
    NAME_TAKEN = "name_taken"
    NOT_YOURS = "not_yours"
    NO_BOX_LEFT = "no_box_left"
    NO_NAME = "no_name"
    NO_SUCH_INGREDIENT = "no_such_ingredient"
    NO_SUCH_BATCH = "no_such_batch"
    NO_SUCH_CLIENT = "no_such_client"
    NO_SUCH_WEIGH_IN = "no_such_weigh_in"
    PORTIONS_TAKEN = "portions_taken"
    RATE = "rate"
    TOO_LONG = "too_long"
    WHICH_FOOD = "which_food"
    ZERO = "zero"
    ZONE = "zone"


class CautionKind(StrEnum):
    """What a caution warns of."""

    ABOUT_SELF = "about_self"
    CLINICIAN = "clinician"
    FLOOR = "floor"
    LOW_TARGET = "low_target"
    MEDICAL = "medical"
    RAW_MEAT = "raw_meat"
    STILL_GOOD = "still_good"
    STORAGE = "storage"
    UNDER_18 = "under_18"
    VERY_LOW_DAYS = "very_low_days"


class Topic(StrEnum):
    """What was asked and answered without recording anything."""

    BASIS = "basis"
    BODY_WEIGHT = "body_weight"
    COACHING = "coaching"
    CONTENTS = "contents"
    EATEN = "eaten"
    ENERGY_BALANCE = "energy_balance"
    KEEPING = "keeping"
    LEFT = "left"
    OPEN = "open"
    NUTRIENT = "nutrient"
    PRECISION = "precision"
    PRIVACY = "privacy"
    ROOM = "room"
    WHAT_IF = "what_if"


class ListOf(StrEnum):
    """What was listed."""

    BATCHES = "batches"
    FOODS = "foods"
    KITCHEN = "kitchen"
    LABELS = "labels"
    MEASURES = "measures"
    RECIPES = "recipes"
    PAUSES = "pauses"
    REMINDERS = "reminders"
    STORED = "stored"
    TARES = "tares"
    TARGET = "target"
    WEIGH_INS = "weigh_ins"
    WORDS = "words"


class Relayed(StrEnum):
    """What a coach sends a client."""

    COVER = "cover"
    EXPORT = "export"
    LABEL = "label"
    MEASURE = "measure"
    NOTE = "note"
    PAUSE = "pause"
    REWEIGH = "reweigh"
    TARGET = "target"


class BatchStep(StrEnum):
    """A step of a batch that can be taken back."""

    OPENING = "opening"
    ADDED = "added"
    CORRECTED = "corrected"
    REMOVED = "removed"
    COOKED = "cooked"
    WEIGHED = "weighed"
    DRAINED = "drained"
    POURED = "poured"
    REFUSE = "refuse"
    COUNTED = "counted"
    BOXED = "boxed"
    REPACKED = "repacked"
    MOVED = "moved"
    REDUCED = "reduced"
    RENAMED = "renamed"
    CLOSED = "closed"
    REOPENED = "reopened"
    CHANGE = "change"


BATCH_EVENTS = tuple(step.value for step in BatchStep if step not in (BatchStep.OPENING, BatchStep.CHANGE))
"""What can happen to a batch that is open."""


class Fact(StrEnum):
    """A kind of thing that the person has told and that can be taken back."""

    BODY_WEIGHT = "body_weight"
    DAY_KIND = "day_kind"
    HABIT = "habit"
    LABEL = "label"
    MEASURE = "measure"
    REMINDER = "reminder"
    SETTING = "setting"
    TARE = "tare"
    TARGET = "target"
    MEMORY = "memory"


class Remembered(StrEnum):
    """What a remembered answer is about, and so what its word and value are."""

    BATCH = "batch"
    """Word: what a batch or a food is called. Value: `food`, or the number of the batch that is meant."""
    BODY_UNIT = "body_unit"
    """Word: empty. Value: `kg`, `lb` or `st`."""
    COMBINATION = "combination"
    """Word: what the person calls several foods together, or a meal. Value: the items as JSON."""
    DRINK = "drink"
    """Word: a drink of the table. Value: `weight` or `volume`, which its ounces are."""
    KIND = "kind"
    """Word: what the person calls a food. Value: the name of a food of the table or of a label."""
    VESSEL = "vessel"
    """Word: a vessel that the person drinks or eats from. Value: what it holds, in mL."""


class VersionKind(StrEnum):
    """What a version of a weigh-in did."""

    RECORDED = "recorded"
    CHANGED = "changed"
    REMOVED = "removed"
    RESTORED = "restored"


class JournalKind(StrEnum):
    """What kind of change an entry of the journal is: of a weigh-in, of a batch, or of a fact."""

    WEIGH_IN = "weigh_in"
    WEIGH_IN_CHANGED = "weigh_in_changed"
    WEIGH_IN_REMOVED = "weigh_in_removed"
    BATCH_OPENED = "batch_opened"
    BATCH_EVENT = "batch_event"
    BODY_WEIGHT = "body_weight"
    DAY_KIND = "day_kind"
    HABIT = "habit"
    LABEL = "label"
    MEASURE = "measure"
    REMINDER = "reminder"
    SETTING = "setting"
    TARE = "tare"
    TARGET = "target"
    MEMORY = "memory"


class Span(StrEnum):
    """How many days a sheet covers."""

    DAY = "day"
    WEEK = "week"
    MONTH = "month"


class Does(StrEnum):
    """What a button under a reply that asks nothing does; it stands in the buttons of messages that were sent."""

    ATE = "ate"
    BOX = "box"
    CHANGE = "change"
    DONE = "done"
    OFF = "off"
    PORTION = "portion"
    POT = "pot"
    SNOOZE = "snooze"
    UNDO = "undo"
    USUAL = "usual"


class Ending(StrEnum):
    """How a batch came to its end."""

    FINISHED = "finished"
    DISCARDED = "discarded"


class OutboxKind(StrEnum):
    """What an outbox row is for."""

    REPLY = "reply"
    TAP = "tap"
    """The answer to a press."""
    MARK = "mark"
    """The buttons of a message that was sent are removed or changed."""
    REACT = "react"
    """A reaction to the person's message, or its text where a reaction is not possible."""
    DAY = "day"
    """The day's message."""
    LETTER = "letter"
    """A notification of what another person did."""
    NOTICE = "notice"
    """A notification by the program itself."""
    REMINDER = "reminder"
    """A scheduled notification."""
    FAREWELL = "farewell"
    """The last words to a person who has been erased."""


class OutboxState(StrEnum):
    """How far sending an outbox row has come."""

    PENDING = "pending"
    SENDING = "sending"
    SENT = "sent"
    DEAD = "dead"
    """It was given up."""


class InboxState(StrEnum):
    """How far handling an inbox row has come."""

    WAITING = "waiting"
    DONE = "done"
    SET_ASIDE = "set_aside"
    """Handling it failed too often."""


class UpdateState(StrEnum):
    """How far parsing an update has come."""

    WAITING = "waiting"
    READ = "read"
    UNREADABLE = "unreadable"
