"""Body weights, wishes, conditions and questions in wordings of many people: each says what it says, and no more."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from .chat import Chat, Said, open_door

WEDNESDAY, THURSDAY = "2026-03-04", "2026-03-05"
RECORD = (
    (f"{WEDNESDAY}T07:00:00+00:00", "I weigh 82.9 kg"),
    (f"{WEDNESDAY}T08:00:00+00:00", "2 slices of wholemeal toast 76 g and 12 g butter for breakfast"),
    (f"{WEDNESDAY}T13:00:00+00:00", "180 g tinned tuna in water and 200 g cooked white rice for lunch"),
    (f"{WEDNESDAY}T19:00:00+00:00", "150 g baked salmon, 250 g boiled potatoes for dinner"),
    (f"{WEDNESDAY}T19:05:00+00:00", "target 2000 kcal and 120 g protein"),
    (f"{THURSDAY}T07:00:00+00:00", "I weigh 82.4 kg"),
    (f"{THURSDAY}T08:00:00+00:00", "60 g muesli and 200 g semi-skimmed milk for breakfast"),
    (f"{THURSDAY}T10:00:00+00:00", "banana 118 g peeled"),
    (f"{THURSDAY}T12:30:00+00:00", "white bread roll 70 g with 30 g cheddar for lunch"),
    (
        f"{THURSDAY}T16:00:00+00:00",
        "starting a chicken curry: 800 g raw chicken breast, 400 g onions, 400 g tinned tomatoes, 20 g rapeseed oil",
    ),
    (f"{THURSDAY}T17:00:00+00:00", "curry cooked 1200 g"),
    (f"{THURSDAY}T18:30:00+00:00", "300 g of the curry for dinner"),
)


@pytest.fixture(scope="module")
def asker() -> Iterator[Chat]:
    """Somebody with two days on record, on the evening of the second; questions change nothing of it."""
    with open_door() as door:
        chat = Chat(door, "asker", timezone="Europe/London", region="UK")
        for at, text in RECORD:
            chat.say(text, at=at)
        yield chat


def kg(said: Said) -> list[float]:
    """The body weights that were put on record."""
    return [round(float(event["kg"]), 2) for event in said.all("body_weight")]


@pytest.mark.parametrize(
    ("text", "weight", "weigh_ins"),
    (
        ("got on the scales after my shift, 88.2 kilos in ma stocking feet", 88.2, 0),
        ("177 lb on the dot this mornin', reckon that's the barbecue comin' off", 80.29, 0),
        ("eleven stone four by the bathroom scales and I'm no' complaining", 71.67, 0),
        ("58.6 kg today, same as always", 58.6, 0),
        ("Doctor's office had me at 95.1 kg with clothes on", 95.1, 0),
        ("morning weigh in 76.3 kg before chai", 76.3, 0),
        ("so i weighed in at 63.5kg at the gym just now lol", 63.5, 0),
        ("the scale showed a hundred eighty seven pounds this morning when I got up", 84.82, 0),
        ("My body is 70.4 kilograms today, doctor will be happy", 70.4, 0),
        ("10st 7 naked as the day I was born", 66.68, 0),
        ("79.8 kg first thing, then 180 g cooked porridge", 79.8, 1),
        ("I was 201 lb on the scale and had a banana 118 g afterwards", 91.17, 1),
        ("Lou 71 kg, Priya 60 kg, me 55.2 kg — we all got on the scales", 55.2, 0),
        ("down the clinic they put me on the big scales, 102.6 kilos", 102.6, 0),
        ("i am 60.1 kg now, still bloated i think", 60.1, 0),
        ("weighed in at a hundred and eighty pounds even at the doc's", 81.65, 0),
        ("68.9kg pre breakfast", 68.9, 0),
        ("the physio weighed me: 162 lb", 73.48, 0),
        ("77 kilos, no shoes, evening", 77.0, 0),
        ("I tip the scales at thirteen stone eleven these days", 87.54, 0),
        ("just hopped on, 69.4 kg", 69.4, 0),
        ("90.7 kg. Water weight, mostly, I'd say", 90.7, 0),
        ("83.1 kg, boots off, after feeding the cattle", 83.1, 0),
        ("got weighed at slimming club tonight, 9 st 6", 59.87, 0),
        ("75.5kg rn and its only thursday", 75.5, 0),
        ("weight: 82.1 kg. Sleep: 7 hours.", 82.1, 0),
        ("98.4kg post run, sweaty", 98.4, 0),
        ("ate 40 g almonds. I'm 68.3 kg today btw", 68.3, 1),
        ("ma wife weighed me, 165 lb", 74.84, 0),
        ("clocked 190 lbs on the dot after church", 86.18, 0),
        ("nine stone ten, says the machine at the chemist", 61.69, 0),
        ("99.2 kilos after the night shift and 85 g of granola", 99.2, 1),
        ("today on weighing machine it is showing 54.9 kg", 54.9, 0),
        ("wifey on the scales said 62 kg, me 78.3 kg", 78.3, 0),
    ),
)
def test_a_weight_of_ones_own_is_read(chat: Chat, text: str, weight: float, weigh_ins: int) -> None:
    said = chat.say(text)
    assert kg(said) == [weight]
    assert len(said.all("weigh_in")) == weigh_ins


@pytest.mark.parametrize(
    "text",
    (
        "my dad weighs 102 kg and eats like a bird",
        "the dog was 31 kg at the vet",
        "I benched 80 kg today",
        "picked up a 25 kg sack of rice",
        "I'd love to be 70 kg by June",
        "lost 3 kg since Christmas",
        "my suitcase came to 23 kg at check in",
        "deadlifted 140 kg, knackered",
        "Dan 84 kg, Junie 38 kg",
        "the nurse weighed my mother, nine stone two",
        "if I were 75 kg what would my target be",
        "remind me what I had for lunch yesterday",
        "did I set a reminder?",
        "can you remind me how much curry there is",
        "nobody reminded me at 9 pm",
        "is 2200 kcal too much for me?",
        "the bar had 220 kcal and 20 g protein",
        "what's my goal now?",
        "my brother aims for 3000 kcal a day",
        "am I over 2000?",
        "how many calories did I have",
        "no calories in black coffee right?",
        "my sister is pregnant and craving pickles",
        "my dad has diabetes",
        "me and the wife 150 kg together lol",
        "my husband is 95 kg now",
        "50 kg of potatoes delivered today",
        "the lamb was 42 kg at market",
        "60 kg x 5 reps squat",
        "mum got weighed: 58 kg",
        "I'm expecting guests tonight",
        "I don't have diabetes",
        "I work with diabetic patients",
        "is this ok for someone with diabetes?",
        "if I were pregnant would you say so",
        "the calf was 78 kg this morning",
        "hit a new PB, 120 kg for three",
        "she was 71 kg at her check up",
        "my mum rang me at 9 pm",
        "that lasagne was 900 kcal, way over my limit",
        "did I hit my 120 g protein goal?",
        "my neighbour is diabetic so I bake without sugar",
    ),
)
def test_what_only_sounds_like_it_records_nothing(asker: Chat, text: str) -> None:
    said = asker.say(text)
    assert not {"body_weight", "weigh_in", "target_set", "reminder_set", "setting_changed"} & set(said.kinds)


@pytest.mark.parametrize(
    ("text", "time"),
    (
        ("would ye gie me a shout at half seven at night so I mind tae write it doon", "19:30"),
        ("hey can you holler at me at 9 pm every night to log my food", "21:00"),
        ("buzz me 6:45am for the scales", "06:45"),
        ("I keep forgetting. A prod at quarter past eight in the evening would be lovely", "20:15"),
        ("pls msg me 10pm daily so i dont forget", "22:00"),
        ("kindly send one reminder at 8 am for breakfast entry", "08:00"),
        ("set an alarm for 18:00 to write down my dinner", "18:00"),
        ("tell me at 9:30 pm every day that I have to log", "21:30"),
        ("every morning at 7 wake me up to weigh myself", "07:00"),
        ("make the reminder come at eight in the evening instead", "20:00"),
        ("the reminder is too early, 21:45 suits me better", "21:45"),
        ("quit bugging me with that reminder", None),
        ("I don't want your reminders any more, thank you", None),
        ("enough with the nightly pings already", None),
        ("turn that reminder thing off would ya", None),
        ("please no longer send the evening message", None),
        ("cancel my reminder, I remember on my own now", None),
        ("I'd be grateful for a wee poke at nine o'clock at night tae log", "21:00"),
        ("sir please alert me 7.15 am for taking weight", "07:15"),
        ("ping me at 1 pm so lunch gets written down", "13:00"),
        ("knock it off with the reminders would you", None),
        ("reminders off pls", None),
        ("can the reminder come at half six in the evening rather", "18:30"),
    ),
)
def test_a_reminder_is_set_or_stopped(chat: Chat, text: str, time: str | None) -> None:
    assert chat.say(text).one("reminder_set")["time"] == time


@pytest.mark.parametrize(
    ("text", "figures"),
    (
        ("let's put it up to 2200 calories a day from now", {"kcal": 2200.0}),
        ("my trainer reckons 130 g of protein daily, make that my goal", {"protein_g": 130.0}),
        ("drop me down to 1800 kcal", {"kcal": 1800.0}),
        ("I want to stay under 1650 calories every day, set it so", {"kcal": 1650.0}),
        ("Dietician says ninety grams of protein per day, so that is what I aim at now", {"protein_g": 90.0}),
        ("change goals: 2400 kcal / 150 p", {"kcal": 2400.0, "protein_g": 150.0}),
        ("aye the goal's 1900 cals noo", {"kcal": 1900.0}),
        ("i want 30 g fibre as goal each day", {"fibre_g": 30.0}),
        ("can we lower my limit to 2100?", {"kcal": 2100.0}),
        ("shooting for 110 grams of protein a day starting now", {"protein_g": 110.0}),
        ("make 2000 cals my daily budget please", {"kcal": 2000.0}),
        ("keep me at 60 g of fat a day", {"fat_g": 60.0}),
        ("I reckon 1700 calories a day is what I'll aim for", {"kcal": 1700.0}),
        ("nutritionist and I settled on 140 grams protein every day", {"protein_g": 140.0}),
        ("let us raise the daily calories to 2300", {"kcal": 2300.0}),
        ("cap me at 1500 a day", {"kcal": 1500.0}),
    ),
)
def test_a_target_is_set(chat: Chat, text: str, figures: dict[str, float]) -> None:
    told = chat.say(text).one("target_set")
    assert {name: told[name] for name in figures} == figures


@pytest.mark.parametrize(
    "text",
    (
        "please don't show me calories, they mess with my head",
        "I only want to see the grams, not the energy",
        "calories off",
        "could ye leave the calories oot o it fae noo on",
        "id rather not see kcal numbers anymore",
        "stop telling me the calories, just weights is fine",
        "get rid of the calorie counts",
        "hide those kcal figures will you",
        "I've no wish to see the calories, only grams",
    ),
)
def test_energy_is_hidden(chat: Chat, text: str) -> None:
    told = chat.say(text).one("setting_changed")
    assert (told["name"], told["value"]) == ("energy", "hidden")


@pytest.mark.parametrize(
    "text",
    (
        "my doc says I'm diabetic and they put me on insulin",
        "they found out I have type 2 diabetes last week",
        "I've just been told I'm expecting, 9 weeks along",
        "you should know i used to struggle with bulimia",
        "the midwife confirmed it, I am pregnant",
        "I inject insulin before every meal now",
        "since last month I am having gestational diabetes",
        "i'm nursing a newborn so bear that in mind",
        "my doctor has told me I have diabetes and I take now insulin",
        "ah should say, the doc put me on insulin last week so he did",
        "180 g cooked rice, and by the way I'm diabetic",
        "turns out I'm pregnant again, due in May",
        "I had anorexia as a teenager, just so you're aware",
    ),
)
def test_a_condition_is_heard(chat: Chat, text: str) -> None:
    assert "caution" in chat.say(text).kinds


@pytest.mark.parametrize(
    ("text", "answer"),
    (
        ("What all have I eaten today, tell me no", r"muesli.*curry"),
        ("and what was breakfast today", r"muesli"),
        ("did I have any bread yesterday?", r"toast"),
        ("did i eat bread today", r"roll"),
        ("did I eat fish yesterday", r"salmon"),
        ("any cheese on my list today?", r"#11 cheddar.*30 g"),
        ("what fish have I had this week", r"tuna.*salmon"),
        ("was there any breakfast in the book for Wednesday?", r"\byes|toast"),
        ("lunch on wednesday, what was it again", r"tuna|rice"),
        ("remind me what I had for tea last night", r"^(?!.*toast).*salmon"),
        ("curry, how much of it do I have left in the pot", r"\b900\b"),
        ("so what's remaining of the chicken curry", r"\b900\b"),
        ("remind me how much curry is still there", r"\b900\b"),
        ("is there any curry left for tomorrow?", r"\b900\b"),
        ("tell me the amount of curry I've still got", r"\b900\b"),
        ("what went into that curry again", r"chicken.*onion"),
        ("how am I doing on protein", r"75 g.*120"),
        ("protein remaining?", r"\d+ g"),
        ("what am I aiming at these days", r"2,?000"),
        ("remind me of my target", r"2,?000"),
        ("what did the scales say this morning", r"82\.4"),
        ("what was my weight yesterday", r"82\.4|82\.9"),
        ("when did I eat that banana", r"banana"),
        ("how big was the banana", r"118"),
        ("how much butter was it yesterday", r"butter.*12 g"),
        ("did I have any chocolate today?", r"no|nothing|none"),
        ("how much rice did I eat on wednesday", r"rice"),
        ("what pots have I got on the go", r"batch|curry"),
        ("did I put the milk in", r"milk.*200 g"),
        ("anything you still need from me?", r"nothing|no |open"),
        ("compare today with yesterday", r"yesterday|Wednesday|4 March"),
        ("was I short of protein yesterday", r"90 g.*120|90 g"),
        ("how over was I yesterday", r"1,257.*2,000"),
        ("so whats my limit per day", r"2,?000|target"),
        ("when do you remind me?", r"reminder|no"),
        ("how much of the curry did i eat", r"300 g"),
        ("what's the average for this week", r"average"),
        ("and fat? how much today", r"33 g fat"),
        ("how old is the curry", r"March|days|today|Thursday"),
        ("what was the last thing I logged", r"curry"),
        ("what bread have i had this week", r"toast.*roll"),
        ("bread yesterday, did I have any", r"toast"),
        ("what was on my plate for dinner yesterday", r"salmon.*potato|potato.*salmon"),
        ("Wednesday breakfast, what did I have", r"toast"),
        ("and how's the curry pot doing, what's left", r"\b900\b"),
        ("protein so far?", r"75 g"),
        ("how much protein did I manage yesterday", r"90 g"),
        ("what's my daily limit again", r"2,?000"),
        ("have I logged the banana already", r"banana"),
        ("any fish today?", r"No|none"),
        ("when's my reminder set for", r"20:30|reminder"),
        ("got any questions for me", r"nothing|open"),
        ("when did I last eat fish", r"salmon"),
    ),
)
def test_a_question_is_answered_by_what_it_names(asker: Chat, text: str, answer: str) -> None:
    said = asker.say(text, at=f"{THURSDAY}T20:00:00+00:00")
    assert not said.records
    assert re.search(answer, said.text, re.IGNORECASE | re.DOTALL), said.text


@pytest.mark.parametrize(
    ("text", "day"),
    (
        ("how did I do yesterday?", WEDNESDAY),
        ("gie's the full tally for the day so far", THURSDAY),
        ("give me yesterday's total", WEDNESDAY),
    ),
)
def test_a_day_is_summed_up(asker: Chat, text: str, day: str) -> None:
    assert asker.say(text, at=f"{THURSDAY}T20:00:00+00:00").one("sheet")["day"] == day
