"""Help by topic is short, and its examples are understood as they stand."""

import pytest

from bot.conversation.help_topics import TOPICS

from .chat import Chat

ASKED = {
    "how do I delete an entry?": "fixes",
    "how do I set a target?": "targets",
    "how do I share my kitchen?": "kitchen",
    "how do I save a label?": "labels",
    "how do I get shorter replies?": "replies",
}


@pytest.mark.parametrize(("said", "topic"), ASKED.items())
def test_how_to_is_answered_by_topic(chat: Chat, said: str, topic: str) -> None:
    heard = chat.say(said)
    assert heard.kinds == ["help"]
    assert heard.text == TOPICS[topic]


@pytest.mark.parametrize("topic", TOPICS)
def test_a_topic_is_a_few_lines(topic: str) -> None:
    assert 1 <= len(TOPICS[topic].splitlines()) <= 4


def test_an_example_of_each_kind_is_understood(chat: Chat) -> None:
    said = (
        "tare soup plate 512 g", "140 g cooked buckwheat", "plum 62 with stone", "fibre target 30 g",
        "new batch lentil stew: 400 g dry lentils, 250 g carrots, 30 g olive oil", "batch 1 cooked 1380 g",
        "took 310 g from batch 1", "my ladle of dal is 135 g", "target 1900 until Friday", "I weigh 71.4 kg",
        "target 2500 kcal on training days", "I always weigh rice dry", "remind me at 20:30", "#1 was 90 g",
        "label oat bar: serving 40 g, 168 kcal, fat 6, carbs 24, protein 3",
        "label rye crispbread: per 100 g 1420 kJ, fat 1.6, carbs 62, fibre 16, protein 10, salt 1.2",
    )  # fmt: skip
    texts = "\n".join(TOPICS.values()).replace("#4", "#1")
    for text in said:
        assert text in texts, text
        heard = chat.say(text)
        assert heard.records or "habit_saved" in heard.kinds, (text, heard)
