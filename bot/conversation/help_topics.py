"""Help by topic: a few lines each, with examples that work as they stand."""

from __future__ import annotations

from typing import Final

TOPICS: Final = {
    "weigh_ins": (
        "Say the weight and the food: 140 g cooked buckwheat, or several: 85 g feta, 6 oz cucumber\n"
        "With waste: plum 62 with stone. On a scale that shows a sum: bowl 250, yogurt 430, berries 512\n"
        "For another time: for breakfast yesterday 60 g oats dry\n"
        "Grams, ounces and pounds count exactly; cups, spoons, mL, fl oz and pieces are estimates."
    ),
    "batches": (
        "Weigh it raw: new batch lentil stew: 400 g dry lentils, 250 g carrots, 30 g olive oil\n"
        "Weigh it cooked, without the pot: batch 1 cooked 1380 g\n"
        "Then take from it: took 310 g from batch 1. Also: batches, how much is left of batch 1?"
    ),
    "boxes": (
        "Divide a batch: split batch 1 into 6 boxes, or: 4 boxes of 280 g. Then: a box from batch 1\n"
        "In the freezer: froze 3 boxes. To see them: what is in the freezer?"
    ),
    "giving_away": (
        "What others eat is not yours, and lowers what is left: gave 300 g of batch 1 to my neighbour\n"
        "Thrown out: threw out the rest of batch 1. A shared plate: 300 g rice, 120 of it for my son"
    ),
    "fixes": (
        "The last one: change last to 65 g, or undo. By its number: #4 was 90 g, delete #4\n"
        "By its food: the feta was 85 g. You can also edit the message that you sent."
    ),
    "labels": (
        "Per serving: label oat bar: serving 40 g, 168 kcal, fat 6, carbs 24, protein 3\n"
        "Per 100 g: label rye crispbread: per 100 g 1420 kJ, fat 1.6, carbs 62, fibre 16, protein 10, salt 1.2\n"
        "Then: 35 g rye crispbread. To see one: label rye crispbread. To see all: labels"
    ),
    "tares": (
        "Weigh the vessel empty, once: tare soup plate 512 g\n"
        "Then weigh with it: 780 g borscht in the soup plate, and I take it off. To see all: tares"
    ),
    "measures": (
        "Weigh one of it, once: my ladle of dal is 135 g, or: one scoop of pea protein = 28 g\n"
        "Then count: 2 ladles of dal. It is marked as measured, not weighed. To see all: measures"
    ),
    "targets": (
        "By hand: target 2100 kcal protein 120, or: fibre target 30 g. To see it: target\n"
        "For a while or some days: target 1900 until Friday, target 2500 kcal on training days\n"
        "To have one computed: compute my target. Ask your doctor or dietitian before you follow one."
    ),
    "reminders": (
        "Say when: remind me at 20:30. To put it off: snooze\n"
        "Other times: weekly summary at 18:00 on Sundays, quiet hours 22 to 7. For today: that was all\n"
        "To stop: reminder off, breakfast offer off"
    ),
    "replies": (
        "The day in one message that I keep up to date: day message on, or pin my day\n"
        "How a weigh-in is answered: short replies, just react, full replies"
    ),
    "body_weight": (
        "Say it with its unit: I weigh 71.4 kg\n"
        "The first weight of a morning counts; the trend is the mean of the last seven. To see it: my weight trend"
    ),
    "coaching": (
        "With a coach: they give you a code, you send it to me, and I ask you first. who sees my data?\n"
        "As a coach: invite Ana, then roster, how is Ana?, target for Ana 2100 kcal, report for Ana\n"
        "To save a text that you send often: save template protein: …, then: send protein to Ana. Away? Omar covers Ana until 20 March\n"
        "To end it: end coaching with Ana"
    ),
    "kitchen": (
        "Share batches and vessels: invite Bo to my kitchen. Everyone's sheet stays private\n"
        "To see who is in it: whose kitchen is this? To leave it: leave the kitchen"
    ),
    "data": (
        "A copy of everything, as tables: export my data. To see what is kept, or to erase it: privacy\n"
        "The text of your messages is deleted after a while: keep my messages 90 days"
    ),
    "sheets": (
        "A day: today, yesterday, on Tuesday. Longer: this week, last month\n"
        "One figure: how much protein so far? What is left: calories left. To see no energy: no calories please"
    ),
    "usual": (
        "Once more: same again, same breakfast as yesterday, another 50 g of that\n"
        "A name for it: when I say yogurt I mean nonfat greek yogurt\n"
        "To see and drop them: what do you remember about me? forget my shake"
    ),
    "habits": (
        "Say it once: I always weigh rice dry. It holds until you say otherwise\n"
        "Your answer to “cooked or raw?” is remembered too. To drop it: forget how I weigh rice"
    ),
    "questions": (
        "Tap a choice, or type its number or its words. To see what is open: what's open?\n"
        "To leave one: skip. To leave all: skip all. What you weighed stays on record either way."
    ),
    "stopping": (
        "Nothing is waiting. To take back the last entry: undo. To stop reminders: reminder off\n"
        "To have a rest: pause me until Friday. To erase everything: privacy"
    ),
    "redo": "There is no redo. Tell me the weigh-in once more, or say: same again",
    "no_target": "A target can be changed, but not removed yet. To change it: target 2100 kcal\nTo see no energy: no calories please",
    "import": (
        "Whoever runs this Tarebook can import your export: send them the file. Importing it twice changes nothing."
    ),
}
"""The text of each topic that `Help` can name; what is not here gets the general help."""
